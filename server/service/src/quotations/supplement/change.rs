//! What a change adds to what is agreed.

use super::{
    super::{ask::Asked, costs::Base, freeze::Wish, internal, price::Change, show},
    agreed::{Agreed, Line, agreed_with, extent, material_of, shares},
    chain::{accepted, last_accepted},
    sold::{Changed, sell},
};
use crate::{
    context::Context,
    failure::{Done, Failure, wrong_state},
    garments::need::load_needs,
};
use ellwand_contract::{Micro, quotations::QuotedCost};
use ellwand_domain::{
    certainty::Certainty,
    code::{GarmentCode, QuotationCode},
    pricing::{ChangedLine, Difference, Extent, PlanLine, PriceGroup, plan_change},
    quantity::{Currency, Micrometres, Millionths, Minutes, Money},
};
use ellwand_storage::{Garment, Tx};

/// Leaves of the costs of the plan what the change adds to what is agreed; what is agreed with it.
pub(in crate::quotations) fn reduce(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    wish: &Wish,
    to: i64,
    asked: &Asked,
    base: &mut Base,
) -> Done<Agreed> {
    let last = last_accepted(tx, to)?;
    let frozen = show::agreed(tx, &last)?;
    let sheets = accepted(tx, to)?
        .into_iter()
        .map(|(_, frozen)| frozen.inside);
    let known: Vec<String> = sheets.flat_map(|sheet| sheet.not_priced).collect();
    let agreed = agreed_with(tx, context, frozen, &last)?;
    let lines: Vec<PlanLine> = agreed.lines.iter().map(Line::read).collect();
    let now = plan_now(tx, garment, wish, &lines, base)?;
    // Without layers it was agreed before they were kept, as one.
    let layer = agreed.layers.len().max(1);
    let now: Vec<PlanLine> = now
        .into_iter()
        .map(|line| PlanLine { layer, ..line })
        .collect();
    // What had no price then is not part of the change.
    base.not_missed_since(&known);
    let change = plan_change(&lines, &now).map_err(internal)?;
    let code = QuotationCode::new(to);
    if change.lines.is_empty() && base.not_priced.is_empty() {
        return Err(nothing(garment, code, &change.unclear));
    }
    for name in &change.unclear {
        base.notes.push(format!(
            "how much more or less of the {name} it takes is not known: taken as agreed; price its change as a material \
             price or an operation of its own"
        ));
    }
    base.taken_as_agreed = lines
        .iter()
        .map(|line| (line.group, line.name.clone()))
        .collect();
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
            .extend(told(context, changed, &plan, QuotationCode::new(with))?);
    }
    base.price = base.printed(context, &[])?;
    base.replaced = base.price;
    let changed = Changed {
        agreed: &lines,
        change: &change,
        own_minutes: more_minutes,
    };
    let (sold, groups, layers) = sell(context, (base, asked, &wish.price), &agreed, &changed)?;
    base.change = Some(Change::of(sold, GarmentCode::new(garment.id), code));
    let lines = change.agreed.iter().map(Line::of).collect::<Done<_>>()?;
    Ok(Agreed {
        rests_on: last.id,
        own_minutes,
        lines,
        layers,
        groups,
    })
}

/// Refuses a change that leaves nothing to be paid.
pub(in crate::quotations) fn nothing_to_pay(
    garment: GarmentCode,
    code: QuotationCode,
    currency: Currency,
    gross: i64,
) -> Failure {
    let amount = Money {
        minor: gross,
        currency,
    }
    .decimal();
    let detail =
        format!("the change of {garment} comes to {amount} {currency}, which is nothing to pay");
    let hint = format!(
        "leave {code} as it was agreed, or cancel it with ellwand quote close {code} and quote anew"
    );
    wrong_state(detail, &hint)
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
) -> Done<Vec<PlanLine>> {
    let given: Vec<String> = wish
        .price
        .material_price
        .iter()
        .filter_map(|text| {
            text.split_once('=')
                .map(|(role, _)| role.trim().to_lowercase())
        })
        .collect();
    let mut now: Vec<PlanLine> = Vec::with_capacity(base.costs.len());
    for cost in &base.costs {
        let missing = base.is_missing(cost.group, &cost.name);
        now.push(PlanLine {
            group: cost.group,
            name: cost.name.clone(),
            extent: extent(cost.amount, cost.minutes).filter(|_| !missing),
            material: material_of(tx, cost.lot)?,
            cost: cost.cost.0,
            given: cost.group == PriceGroup::Materials && given.contains(&cost.name.to_lowercase()),
            layer: 0,
        });
    }
    let mut planned: Vec<(bool, String)> = load_needs(tx, garment)?
        .into_iter()
        .map(|need| (true, need.row.role))
        .collect();
    planned.extend(
        tx.operations(garment.id)?
            .into_iter()
            .map(|operation| (false, operation.name)),
    );
    for line in agreed
        .iter()
        .filter(|line| line.group != PriceGroup::Overhead)
    {
        let material = line.group == PriceGroup::Materials;
        let listed = now
            .iter()
            .any(|now| now.name == line.name && (now.group == PriceGroup::Materials) == material);
        if !listed && planned.contains(&(material, line.name.clone())) {
            now.push(PlanLine {
                extent: None,
                cost: Millionths::ZERO,
                ..line.clone()
            });
        }
    }
    Ok(now)
}

/// A line of the change as the workshop reads it.
fn told(
    context: &Context<'_>,
    changed: &ChangedLine,
    plan: &[QuotedCost],
    code: QuotationCode,
) -> Done<Vec<QuotedCost>> {
    let PlanLine {
        group,
        name,
        extent,
        cost,
        ..
    } = &changed.line;
    let material = *group == PriceGroup::Materials;
    let own = |cost: &&QuotedCost| {
        cost.name == *name
            && (cost.group == PriceGroup::Materials) == material
            && (cost.group == PriceGroup::Overhead) == (*group == PriceGroup::Overhead)
    };
    let own: Vec<&QuotedCost> = plan.iter().filter(own).collect();
    if matches!(changed.difference, Difference::New | Difference::Given) {
        return Ok(own.into_iter().cloned().collect());
    }
    if cost.is_zero() && matches!(changed.difference, Difference::Less | Difference::Gone) {
        return Ok(Vec::new());
    }
    let (amount, minutes) = shares(*extent)?;
    let quantity = match extent {
        Some(Extent::Length(um)) => Some(Micrometres::new(*um)?.show(context.units())),
        Some(Extent::Count(count)) => Some(format!("{count} pcs")),
        Some(Extent::Minutes(minutes)) => Some(Minutes::new(*minutes)?.to_string()),
        None => None,
    };
    let sign = if changed.difference == Difference::More {
        "+"
    } else {
        "-"
    };
    let first = own.first();
    let detail = match changed.difference {
        Difference::More => {
            first.map_or_else(String::new, |cost| format!("more of it: {}", cost.detail))
        }
        Difference::Less => format!("less than agreed with {code}"),
        _ => format!("agreed with {code}, and not in the plan any more"),
    };
    Ok(vec![QuotedCost {
        group: *group,
        name: name.clone(),
        detail,
        quantity: quantity.map(|quantity| format!("{sign}{quantity}")),
        amount,
        minutes,
        lot: first
            .filter(|_| changed.difference == Difference::More)
            .and_then(|cost| cost.lot),
        of_detail: first.and_then(|cost| cost.of_detail.clone()),
        range: None,
        certainty: first.map_or(Certainty::Stated, |cost| cost.certainty),
        cost: Micro(*cost),
        printed: String::new(),
    }])
}
