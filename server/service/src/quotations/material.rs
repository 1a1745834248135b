//! Materials behind a price: typed, promised or picked from the shelf, estimated; as they did cost.

use super::{costs::Base, internal};
use crate::{
    candidates::{self, Answered, Taking},
    context::Context,
    costs::Costed,
    failure::{Done, invalid},
    fit,
    garments::need::{NeedRecord, load_needs},
    reservations::need_named,
    shelved::{self, LotRecord, Shelved},
};
use ellwand_contract::{
    Amount, Micro,
    garments::NeedCandidates,
    quotations::{PriceInput, QuotedCost},
};
use ellwand_domain::{
    certainty::Certainty,
    code::{GarmentCode, LotCode},
    costing::{LineKind, LossReason},
    ledger::Quantity,
    pricing::PriceGroup,
    quantity::{Micrometres, Millionths},
    setting::{GarmentState, MaterialsAt, PriceFrom},
};
use ellwand_storage::{Garment, Tx};
use std::collections::HashMap;

/// Sum of the materials, as asked for and at what it costs to replace them.
#[derive(Default)]
pub(super) struct Sums {
    pub(super) asked: Millionths,
    pub(super) replaced: Millionths,
}

/// A line before it is decided what it is priced at.
struct Line {
    role: String,
    detail: String,
    quantity: Option<String>,
    certainty: Certainty,
    cost: Millionths,
    /// Lot and quantity, where a lot is known.
    of: Option<(i64, i64)>,
}

/// Newest lots that are looked at for one that was not taken back.
const LOOKED_AT: i64 = 20;

pub(super) fn lines(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    costed: &Costed,
    from: PriceFrom,
    price: &PriceInput,
    base: &mut Base,
) -> Done<Sums> {
    let needs = load_needs(tx, garment)?;
    let typed = typed(context, garment, &needs, &price.material_price)?;
    let mut all = match from {
        PriceFrom::Plan => planned(tx, context, garment, costed, &needs, &typed, base)?,
        PriceFrom::Actual => {
            let standing = crate::promises::Standing::read(tx, garment.id, context.today)?;
            let mut open = Vec::new();
            for need in &needs {
                if standing.of(need)?.cut() < need.row.units {
                    open.push(need);
                }
            }
            used(garment, costed, &open, base)
        }
    };
    all.retain(|line| !typed.contains_key(&line.role));
    for need in &needs {
        if let Some(cost) = typed.get(&need.row.role) {
            all.push(Line {
                role: need.row.role.clone(),
                detail: match garment.count {
                    1 => "price given".to_owned(),
                    count => format!("price given for all {count}"),
                },
                quantity: None,
                certainty: Certainty::Stated,
                cost: *cost,
                of: None,
            });
        }
    }
    let at = price.materials_at.unwrap_or(MaterialsAt::Cost);
    let mut sums = Sums::default();
    for mut line in all {
        let (mut amount, mut replaced) = (None, None);
        if let Some((lot, quantity)) = line.of {
            let record = LotRecord::load(tx, lot)?;
            amount = Some(shelved::amount(
                record.is_counted(),
                Quantity::new(quantity)?,
            ));
            let need = needs.iter().find(|need| need.row.role == line.role);
            replaced = replacement(tx, context, garment, need, &record, quantity, line.cost)?;
        }
        sums.replaced = sums
            .replaced
            .plus(replaced.map_or(line.cost, |(_, cost)| cost))?;
        if let (MaterialsAt::Replacement, Some((lot, cost))) = (at, replaced) {
            line.cost = cost;
            line.certainty = Certainty::Stated;
            line.detail = format!("{}, at the price of {}", line.detail, LotCode::new(lot));
        }
        sums.asked = sums.asked.plus(line.cost)?;
        let of_detail = needs.iter().find(|need| need.row.role == line.role);
        base.costs.push(QuotedCost {
            group: PriceGroup::Materials,
            name: line.role,
            detail: line.detail,
            quantity: line.quantity,
            amount,
            minutes: None,
            lot: line.of.map(|(lot, _)| LotCode::new(lot)),
            of_detail: of_detail.and_then(|need| need.row.detail.clone()),
            range: None,
            certainty: line.certainty,
            cost: Micro(line.cost),
            printed: String::new(),
        });
    }
    Ok(sums)
}

/// Typed prices by role: `shell=40.00`, for all of the role.
fn typed(
    context: &Context<'_>,
    garment: &Garment,
    needs: &[NeedRecord],
    prices: &[String],
) -> Done<HashMap<String, Millionths>> {
    let mut typed = HashMap::new();
    for text in prices {
        let (role, amount) = text.split_once('=').ok_or_else(|| {
            invalid(
                "material_price",
                format!("\"{text}\" names no role; write shell=40.00"),
            )
        })?;
        let need = need_named(needs, GarmentCode::new(garment.id), role)?;
        let amount = context.home_money("material_price", amount)?;
        if typed.insert(need.row.role.clone(), amount).is_some() {
            return Err(invalid(
                "material_price",
                format!("the {} is priced twice", need.row.role),
            ));
        }
    }
    Ok(typed)
}

/// What the promises plan; for what is still open the best pieces of the shelf, else the need's own estimate.
fn planned(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    costed: &Costed,
    needs: &[NeedRecord],
    typed: &HashMap<String, Millionths>,
    base: &mut Base,
) -> Done<Vec<Line>> {
    let all: Vec<&NeedRecord> = needs.iter().collect();
    let found = candidates::for_needs(tx, context, garment, &all)?;
    let mut lines = Vec::new();
    for (
        need,
        Answered {
            view: found,
            takings,
            ..
        },
    ) in needs.iter().zip(&found)
    {
        let role = &need.row.role;
        let told = costed.sheet.lines.iter().zip(&costed.lines);
        let own =
            told.filter(|(line, shown)| line.kind == LineKind::Material && shown.name == *role);
        let mut known = Vec::new();
        let mut estimate = None;
        for (line, shown) in own {
            let taken = shown
                .taken
                .filter(|taken| taken.planned > 0 || taken.actual > 0);
            let (cost, quantity, of) = match (line.planned, taken) {
                (Some(planned), taken) => (
                    planned,
                    shown.planned.clone(),
                    taken.map(|taken| (taken.lot, taken.planned)),
                ),
                // Cut without a promise or an estimate: as it was cut.
                (None, Some(taken)) => (
                    line.actual,
                    shown.actual.clone(),
                    Some((taken.lot, taken.actual)),
                ),
                (None, None) => continue,
            };
            let estimated = of.is_none();
            let line = Line {
                role: role.clone(),
                detail: shown.detail.clone(),
                quantity,
                certainty: if estimated {
                    Certainty::Estimated
                } else {
                    Certainty::Measured
                },
                cost,
                of,
            };
            if estimated {
                estimate = Some(line)
            } else {
                known.push(line)
            }
        }
        let mut open = found.units_open > 0;
        if open && !found.picks.is_empty() {
            known.extend(picked(context, found, takings)?);
            open = false;
        }
        if open && known.is_empty() && estimate.is_some() {
            known.extend(estimate);
            open = false;
        }
        if open && !typed.contains_key(role) {
            let of = need.row.units;
            let part = if found.units_open < of {
                format!(", {} of {of}", found.units_open)
            } else {
                String::new()
            };
            base.miss(
                PriceGroup::Materials,
                role,
                format!("{role}{part}: {}", found.amount),
            );
        }
        lines.extend(known);
    }
    Ok(lines)
}

/// What the picks of the shelf would cost.
fn picked(context: &Context<'_>, found: &NeedCandidates, takings: &[Taking]) -> Done<Vec<Line>> {
    let mut lines = Vec::new();
    for (pick, taking) in found.picks.iter().zip(takings) {
        let serves = found
            .serve
            .iter()
            .find(|candidate| candidate.piece == pick.piece);
        let serves = serves.ok_or_else(|| internal("a picked piece is no candidate"))?;
        let all = taking.quantity;
        let quantity = match serves.takes {
            Amount::LengthM(_) => Micrometres::new(all)?.show(context.units()),
            Amount::Count(_) => format!("{all} pcs"),
        };
        lines.push(Line {
            role: found.role.clone(),
            detail: format!("{} {}, not promised", serves.piece, serves.name),
            quantity: Some(quantity),
            certainty: Certainty::Estimated,
            cost: taking.cost,
            of: Some((serves.piece.lot.get(), all)),
        });
    }
    Ok(lines)
}

/// What the garment took, the customer's changes with it.
/// `open`: needs that are not all cut.
fn used(garment: &Garment, costed: &Costed, open: &[&NeedRecord], base: &mut Base) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut add = |role: &str, detail: &str, quantity: &Option<String>, cost: Millionths, of| {
        lines.push(Line {
            role: role.to_owned(),
            detail: detail.to_owned(),
            quantity: quantity.clone(),
            certainty: Certainty::Measured,
            cost,
            of,
        });
    };
    for (line, shown) in costed.sheet.lines.iter().zip(&costed.lines) {
        if line.kind == LineKind::Material && (shown.actual.is_some() || !line.actual.is_zero()) {
            let of = shown.taken.map(|taken| (taken.lot, taken.actual));
            add(&shown.name, &shown.detail, &shown.actual, line.actual, of);
        }
    }
    for (loss, shown) in costed.sheet.losses.iter().zip(&costed.losses) {
        if loss.kind == LineKind::Material && loss.reason == LossReason::CustomerChange {
            add(&shown.name, &shown.detail, &shown.actual, loss.value, None);
        }
    }
    if matches!(
        garment.state.0,
        GarmentState::Planned | GarmentState::CutInto
    ) {
        for need in open {
            let role = &need.row.role;
            base.miss(
                PriceGroup::Materials,
                role,
                format!("{role}: not all cut yet"),
            );
        }
    }
    lines
}

/// What this would cost at the newest lot of the same material that was paid for and can serve the need: that lot, and the
/// cost. None for a customer's own, and where there is no such lot.
///
/// What was given or is too narrow sets no price; the lot that is used serves, whatever is known of it. The cost rises with the price of a length as it was bought, so that what a wash took off is paid for, too; of what cost
/// nothing the quantity is priced.
fn replacement(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    need: Option<&NeedRecord>,
    record: &LotRecord,
    quantity: i64,
    cost: Millionths,
) -> Done<Option<(i64, Millionths)>> {
    if record.lot.owner_id.is_some() {
        return Ok(None);
    }
    for (newest, landed, received, booking) in
        tx.bought_lots_of(record.lot.material_id, LOOKED_AT)?
    {
        if received < 1 || landed < 1 || tx.undone_by(booking)?.is_some() {
            continue;
        }
        let same = newest == record.lot.id;
        if let Some(need) = need.filter(|_| !same)
            && !can_serve(tx, context, garment, need, newest, received)?
        {
            continue;
        }
        let lines = tx.purchase_lines(record.lot.purchase_id)?;
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
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    need: &NeedRecord,
    lot: i64,
    received: i64,
) -> Done<bool> {
    let record = LotRecord::load(tx, lot)?;
    for stored in tx.pieces_of_lot(lot)? {
        let shelved = Shelved {
            stored,
            record: record.clone(),
        };
        if let Ok(fit) = fit::fit(
            tx,
            context,
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
