//! What a change adds to what is agreed.

use super::{
    super::{ask::Asked, base::Base, freeze::Wish, internal, price::Change, show, version_of},
    agreed::{Agreed, Line, agreed_with},
    chain::{accepted, last_accepted},
    sold::{Changed, sell},
    washed,
};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure, wrong_state},
    },
    garments::need::load_needs,
};
use ellwand_domain::{
    certainty::Certainty,
    code::{GarmentCode, QuotationCode},
    costing::CostItem,
    pricing::{ChangedLine, Difference, PlanLine, PriceGroup, plan_change},
    quantity::{Currency, Millionths, Minutes},
};
use ellwand_storage::{Garment, Quotation, Tx};

/// Leaves of the costs of the plan what the change adds to what is agreed; what is agreed with it.
pub(in crate::money::quotations) fn reduce(
    desk: &mut Desk<'_>,
    garment: &Garment,
    wish: &Wish,
    to: i64,
    asked: &Asked,
    base: &mut Base,
) -> Done<Agreed> {
    let last = last_accepted(desk, to)?;
    let frozen = show::agreed(desk, &last)?;
    let sheets = accepted(desk, to)?
        .into_iter()
        .map(|(_, frozen)| frozen.inside);
    let known: Vec<String> = sheets.flat_map(|sheet| sheet.not_priced).collect();
    let agreed = agreed_with(desk, frozen, &last)?;
    let (lines, now) = beside(desk, (garment, wish), (&agreed, &last), base)?;
    // What had no price then is not part of the change.
    base.missing
        .retain(|missing| !known.contains(&missing.text()));
    let change = plan_change(&lines, &now).map_err(internal)?;
    let code = QuotationCode::new(to);
    if change.lines.iter().all(is_nothing) && base.missing.is_empty() {
        return Err(nothing(garment, code, &change.unclear));
    }
    for name in &change.unclear {
        base.notes.push(format!(
            "whether it takes more or less of the {name} is not known: taken as agreed; price its change as a material \
             price or an operation of its own"
        ));
    }
    base.taken_as_agreed = lines.iter().map(|line| line.item.clone()).collect();
    let own_minutes = base.price.own_minutes.get();
    let more_minutes = own_minutes.saturating_sub(agreed.own_minutes);
    base.price.own_minutes = Minutes::new(more_minutes.max(0))?;
    let plan = std::mem::take(&mut base.costs);
    for changed in &change.lines {
        let with = agreed
            .layers
            .get(changed.line.layer)
            .map_or(to, |layer| layer.quotation);
        base.costs
            .extend(change_items(changed, &plan, QuotationCode::new(with)));
    }
    base.price = base.printed(desk.context, &[])?;
    base.replaced = base.price;
    let changed = Changed {
        agreed: &lines,
        change: &change,
        own_minutes: more_minutes,
    };
    let (sold, groups, layers) = sell(desk.context, (base, asked, &wish.price), &agreed, &changed)?;
    base.change = Some(Change::of(sold, GarmentCode::new(garment.id), code));
    let lines = change
        .agreed
        .iter()
        .map(|line| Line::of(desk.context, line));
    let lines = lines.collect::<Done<_>>()?;
    Ok(Agreed {
        rests_on: last.id,
        own_minutes,
        lines,
        layers,
        groups,
    })
}

/// The lines of what is agreed and of the plan now, as they can be held against each other.
fn beside(
    desk: &mut Desk<'_>,
    (garment, wish): (&Garment, &Wish),
    (agreed, last): (&Agreed, &Quotation),
    base: &mut Base,
) -> Done<(Vec<PlanLine>, Vec<PlanLine>)> {
    let lines = agreed.lines.iter().map(|line| line.read(desk.context));
    let mut lines: Vec<PlanLine> = lines.collect::<Done<_>>()?;
    let now = plan_now(desk, garment, wish, &lines, base, agreed.layers.len())?;
    let version = version_of(desk, last, last.accepted.unwrap_or(last.version))?;
    washed::restate(desk, &mut lines, &now, version.booking_id, &mut base.notes)?;
    Ok((lines, now))
}

/// Hours that were agreed without overhead go off for nothing.
fn is_nothing(changed: &ChangedLine) -> bool {
    changed.difference == Difference::Gone && changed.line.item.value.is_zero()
}

/// Refuses a change that leaves nothing to be paid.
pub(in crate::money::quotations) fn nothing_to_pay(
    garment: GarmentCode,
    code: QuotationCode,
    currency: Currency,
    gross: i64,
) -> Failure {
    let amount = currency.money(gross).decimal();
    let detail = format!(
        "the change of {garment} comes to {amount} {currency}, which leaves nothing to pay"
    );
    let hint = format!(
        "leave {code} as it was agreed, or cancel it with ellwand quote close {code} and quote again"
    );
    wrong_state(detail, &hint)
        .naming("quotation", code)
        .with("amount", amount)
}

/// Refuses a change of nothing.
fn nothing(garment: &Garment, code: QuotationCode, unclear: &[String]) -> Failure {
    let garment = GarmentCode::new(garment.id);
    let detail = format!("nothing in the plan of {garment} costs more than was agreed with {code}");
    let hint = match unclear {
        [] => format!("change the plan first with ellwand garment edit {garment}"),
        [name, ..] => {
            format!("price the change by hand, for example --material-price '{name}=12.00'")
        }
    };
    wrong_state(detail, &hint)
}

/// The plan's lines as they can be compared. A line that is in the plan but has no price, or not for all of it, is there with an
/// extent that is not known, so that it is not taken for gone.
fn plan_now(
    tx: &mut Tx<'_>,
    garment: &Garment,
    wish: &Wish,
    agreed: &[PlanLine],
    base: &Base,
    layer: usize,
) -> Done<Vec<PlanLine>> {
    let given: Vec<String> = wish
        .price
        .material_price
        .iter()
        .filter_map(|text| text.split_once('='))
        .map(|(role, _)| role.trim().to_lowercase())
        .collect();
    let is_material = |item: &CostItem| item.group == PriceGroup::Materials;
    let mut now: Vec<PlanLine> = Vec::with_capacity(base.costs.len());
    for item in &base.costs {
        let mut item = item.clone();
        item.extent = item.extent.filter(|_| !base.is_missing(&item));
        now.push(PlanLine {
            given: is_material(&item) && given.contains(&item.name.to_lowercase()),
            item,
            layer,
        });
    }
    let needs = load_needs(tx, garment)?.into_iter();
    let mut planned: Vec<(bool, String)> = needs.map(|need| (true, need.row.role)).collect();
    let operations = tx.operations(garment.id)?.into_iter();
    planned.extend(operations.map(|operation| (false, operation.name)));
    for line in agreed {
        let item = &line.item;
        let is_planned = planned.contains(&(is_material(item), item.name.clone()));
        let listed = |now: &PlanLine| {
            now.item.name == item.name && is_material(&now.item) == is_material(item)
        };
        if item.group == PriceGroup::Overhead || !is_planned || now.iter().any(listed) {
            continue;
        }
        now.push(PlanLine {
            item: CostItem {
                extent: None,
                value: Millionths::ZERO,
                ..item.clone()
            },
            given: false,
            layer,
        });
    }
    Ok(now)
}

/// A line of the change as the workshop reads it.
fn change_items(changed: &ChangedLine, plan: &[CostItem], code: QuotationCode) -> Vec<CostItem> {
    let line = &changed.line.item;
    let own = |item: &&CostItem| {
        item.name == line.name
            && (item.group == PriceGroup::Materials) == (line.group == PriceGroup::Materials)
            && (item.group == PriceGroup::Overhead) == (line.group == PriceGroup::Overhead)
    };
    let mut own = plan.iter().filter(own);
    let is_off = matches!(changed.difference, Difference::Less | Difference::Gone);
    if matches!(changed.difference, Difference::New | Difference::Given) {
        return own.cloned().collect();
    }
    if line.value.is_zero() && is_off {
        return Vec::new();
    }
    let first = own.next();
    let of = match changed.difference {
        Difference::More => first.map_or_else(String::new, |item| {
            format!("more of it: {}", item.of.join(", "))
        }),
        Difference::Less => format!("less than agreed with {code}"),
        _ => format!("agreed with {code}, but no longer in the plan"),
    };
    vec![CostItem {
        of: vec![of],
        lots: first
            .filter(|_| !is_off)
            .map_or_else(Vec::new, |item| item.lots.clone()),
        feature: first.and_then(|item| item.feature.clone()),
        certainty: first.map_or(Certainty::Stated, |item| item.certainty),
        range: None,
        difference: true,
        ..line.clone()
    }]
}
