//! Materials behind a price: at their cost, at what it costs to replace them, or at a price that was typed.

use crate::money::quotations::base::Base;
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, invalid},
    },
    garments::need::{NeedRecord, load_needs},
    promises::{fit, reservations::need_named},
    shelf::shelved::{LotRecord, Shelved},
};
use ellwand_contract::quotations::PriceInput;
use ellwand_domain::{
    certainty::Certainty,
    code::{GarmentCode, LotCode},
    costing::{CostItem, Extent, LineKind},
    pricing::PriceGroup,
    quantity::Millionths,
    setting::MaterialsAt,
};
use ellwand_storage::Garment;

/// Newest lots that are looked at for one that was not taken back.
const LOOKED_AT: i64 = 20;

/// Prices the materials as asked for; what they come to so, and at what it costs to replace them.
pub(super) fn price(
    desk: &mut Desk<'_>,
    garment: &Garment,
    price: &PriceInput,
    base: &mut Base,
) -> Done<(Millionths, Millionths)> {
    let needs = load_needs(desk, garment)?;
    let typed = typed(desk.context, garment, &needs, &price.material_price)?;
    let is_typed = |group: PriceGroup, name: &str| {
        group == PriceGroup::Materials && typed.iter().any(|item| item.name == name)
    };
    base.costs.retain(|item| !is_typed(item.group, &item.name));
    base.missing
        .retain(|missing| !is_typed(missing.group, &missing.name));
    base.costs.extend(typed);
    base.costs.sort_by_key(CostItem::kind);
    let at = price.materials_at.unwrap_or(MaterialsAt::Cost);
    let (mut asked, mut replaced) = (Millionths::ZERO, Millionths::ZERO);
    let of_materials = |item: &&mut CostItem| item.kind() == LineKind::Material;
    for item in base.costs.iter_mut().filter(of_materials) {
        let need = needs.iter().find(|need| need.row.role == item.name);
        let newest = replacement(desk, garment, need, item)?;
        replaced = replaced.plus(newest.map_or(item.value, |(_, cost)| cost))?;
        if let (MaterialsAt::Replacement, Some((lot, cost))) = (at, newest) {
            item.value = cost;
            item.certainty = Certainty::Stated;
            item.of
                .push(format!("at the price of {}", LotCode::new(lot)));
        }
        asked = asked.plus(item.value)?;
    }
    Ok((asked, replaced))
}

/// Typed prices, `shell=40.00` for all of the role, in the order of the plan.
fn typed(
    context: &Context<'_>,
    garment: &Garment,
    needs: &[NeedRecord],
    prices: &[String],
) -> Done<Vec<CostItem>> {
    let mut typed: Vec<CostItem> = Vec::new();
    let basis = match garment.count {
        1 => "price given".to_owned(),
        count => format!("price given for all {count}"),
    };
    for text in prices {
        let (role, amount) = text.split_once('=').ok_or_else(|| {
            invalid(
                "material_price",
                format!("\"{text}\" names no role; write shell=40.00"),
            )
        })?;
        let need = need_named(needs, GarmentCode::new(garment.id), role)?;
        let amount = context.home_money("material_price", amount)?;
        if typed.iter().any(|item| item.name == need.row.role) {
            return Err(invalid(
                "material_price",
                format!("the {} is priced twice", need.row.role),
            ));
        }
        typed.push(CostItem {
            of: vec![basis.clone()],
            feature: need.row.detail.clone(),
            certainty: Certainty::Stated,
            ..CostItem::new(PriceGroup::Materials, &need.row.role, amount)
        });
    }
    typed.sort_by_key(|item| needs.iter().position(|need| need.row.role == item.name));
    Ok(typed)
}

/// What this would cost at the newest lot of the same material that was paid for and can serve the need: that lot, and the
/// cost. None for a customer's own, and where there is no such lot.
///
/// What was given or is too narrow sets no price; the lot that is used serves, whatever is known of it. The cost rises with the
/// price of a length as it was bought, so that what a wash took off is paid for, too; of what cost nothing the quantity is
/// priced.
fn replacement(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: Option<&NeedRecord>,
    item: &CostItem,
) -> Done<Option<(i64, Millionths)>> {
    let &[lot] = item.lots.as_slice() else {
        return Ok(None);
    };
    let (record, cost) = (LotRecord::load(desk, lot)?, item.value);
    let quantity = item.extent.map_or(0, Extent::number);
    if record.lot.owner_id.is_some() {
        return Ok(None);
    }
    for (newest, landed, received, booking) in
        desk.tx.bought_lots_of(record.lot.material_id, LOOKED_AT)?
    {
        if received < 1 || landed < 1 || desk.tx.undone_by(booking)?.is_some() {
            continue;
        }
        let same = newest == record.lot.id;
        if let Some(need) = need.filter(|_| !same)
            && !can_serve(desk, garment, need, newest, received)?
        {
            continue;
        }
        let lines = desk.tx.purchase_lines(record.lot.purchase_id)?;
        let own = lines
            .iter()
            .find(|line| line.lot_id == record.lot.id && line.landed > 0 && line.quantity > 0);
        let cost = match own {
            _ if same => cost,
            Some(own) => cost
                .share(landed, own.landed)?
                .share(own.quantity, received)?,
            None => Millionths::new(landed)?.share(quantity, received)?,
        };
        return Ok(Some((newest, cost)));
    }
    Ok(None)
}

/// Whether a piece of the lot meets what the need asks for, and enough was bought for one unit of it.
fn can_serve(
    desk: &mut Desk<'_>,
    garment: &Garment,
    need: &NeedRecord,
    lot: i64,
    received: i64,
) -> Done<bool> {
    let record = LotRecord::load(desk, lot)?;
    for stored in desk.tx.pieces_of_lot(lot)? {
        let shelved = Shelved {
            stored,
            record: record.clone(),
        };
        if let Ok(fit) = fit::fit(
            desk,
            garment,
            need,
            &shelved,
            need.longest_part.map(Into::into),
        )? && fit.takes.get() <= received
        {
            return Ok(true);
        }
    }
    Ok(false)
}
