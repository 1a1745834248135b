//! A cost as a quotation keeps and shows it.

use crate::money::quotations::internal;
use crate::{
    desk::{context::Context, failure::Done},
    money::costs::{amount_of, extent_text},
};
use ellwand_contract::{Amount, Micro, quotations::QuotedCost};
use ellwand_domain::{
    code::LotCode,
    costing::{CostItem, Extent},
    quantity::{Currency, Minutes, Money},
};

/// The cost as it is shown.
pub(in crate::money::quotations) fn quoted(
    context: &Context<'_>,
    item: &CostItem,
) -> Done<QuotedCost> {
    let minutes = match item.extent {
        Some(Extent::Minutes(minutes)) => Some(minutes),
        _ => None,
    };
    let range = match item.range {
        Some((low, high)) => Some(format!("{} to {}", Minutes::new(low)?, Minutes::new(high)?)),
        None => None,
    };
    let sign = match (item.difference, item.value.get() < 0) {
        (true, true) => "-",
        (true, false) => "+",
        (false, _) => "",
    };
    let quantity = extent_text(context, item.extent)?;
    Ok(QuotedCost {
        group: item.group,
        name: item.name.clone(),
        detail: item.of.join(", "),
        quantity: quantity.map(|text| format!("{sign}{text}")),
        amount: amount_of(item.extent)?,
        minutes,
        lot: match item.lots.as_slice() {
            [lot] => Some(LotCode::new(*lot)),
            _ => None,
        },
        of_detail: item.feature.clone(),
        range,
        certainty: item.certainty,
        cost: Micro(item.value),
        printed: context.currency.money(item.printed).decimal(),
    })
}

/// The cost that was shown so.
pub(in crate::money::quotations) fn cost_item(
    cost: &QuotedCost,
    currency: Currency,
) -> Done<CostItem> {
    let printed = Money::parse_signed(&cost.printed, Some(currency)).map_err(internal)?;
    let extent = match cost.amount {
        Some(Amount::LengthM(length)) => Some(Extent::Length(length.get())),
        Some(Amount::Count(count)) => Some(Extent::Count(count)),
        None => cost.minutes.map(Extent::Minutes),
    };
    // What is taken off is shown without its sign.
    let signed = |extent: Extent| match cost.cost.0.get() < 0 {
        true => extent.of_same(extent.number().saturating_neg()),
        false => extent,
    };
    Ok(CostItem {
        of: vec![cost.detail.clone()],
        lots: cost.lot.iter().map(|lot| lot.get()).collect(),
        extent: extent.map(signed),
        feature: cost.of_detail.clone(),
        certainty: cost.certainty,
        printed: printed.minor,
        ..CostItem::new(cost.group, &cost.name, cost.cost.0)
    })
}
