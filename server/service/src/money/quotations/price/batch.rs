//! The price of a batch from what it did cost: what its good garments carry, and what spoiled ones took.

use crate::desk::{
    context::Context,
    failure::{Done, invalid},
};
use crate::money::quotations::{base::Base, internal};
use ellwand_contract::{Micro, quotations::QuotedBatch};
use ellwand_domain::{
    certainty::Certainty,
    code::GarmentCode,
    costing::{CostItem, on_good, per_good},
    pricing::PriceGroup,
    quantity::Millionths,
    setting::Spoilage,
};
use ellwand_storage::Garment;

/// Leaves on each cost what the good garments carry. After an own mistake the spoiled ones' share, less what they still fetch,
/// is a loss; of normal spoilage the good ones carry all, less what the spoiled ones still fetch.
///
/// `replaced`: the same materials at what it costs to replace them. Own time of the spoiled ones is no money that went: it stays
/// among the hours that the price is to pay for.
pub(in crate::money::quotations) fn spread(
    context: &Context<'_>,
    garment: &Garment,
    base: &mut Base,
    replaced: &mut Millionths,
) -> Done<()> {
    let (Some(good), Some(spoiled)) = (garment.good, garment.spoiled) else {
        return Ok(());
    };
    let Some(spoilage) = garment.spoilage.filter(|_| spoiled > 0) else {
        return Ok(());
    };
    if good == 0 {
        let detail = format!(
            "none of {} is good, so there is nothing to sell",
            GarmentCode::new(garment.id)
        );
        return Err(invalid("from", detail)
            .naming("garment", GarmentCode::new(garment.id))
            .with("good", 0));
    }
    let salvage = Millionths::new(garment.salvage)?;
    let (mut lost, mut own) = (Millionths::ZERO, Millionths::ZERO);
    for cost in &mut base.costs {
        let (kept, gone) = on_good(cost.value, garment.count, good, spoilage).map_err(internal)?;
        cost.value = kept;
        lost = lost.plus(gone)?;
        if cost.group == PriceGroup::OwnLabour {
            own = own.plus(gone)?;
        }
    }
    *replaced = on_good(*replaced, garment.count, good, spoilage)
        .map_err(internal)?
        .0;
    let count = garment.count;
    match spoilage {
        Spoilage::OwnMistake => {
            let loss = lost.minus(salvage)?.max(Millionths::ZERO);
            let money = lost.minus(own)?.minus(salvage)?.max(Millionths::ZERO);
            base.price.losses = base.price.losses.plus(money)?;
            (base.spoiled, base.own_lost) = (loss, own);
            base.notes.push(format!(
                "{spoiled} of {count} were spoiled by an own mistake: their share of {}, less {} that they still fetch, is a \
                 loss of {} and not in the price",
                context.printed(lost),
                context.printed(salvage),
                context.printed(loss)
            ));
        }
        Spoilage::Normal => {
            if !salvage.is_zero() {
                *replaced = replaced.minus(salvage)?;
                base.costs.push(fetched(spoiled, salvage));
            }
            base.notes.push(format!(
                "{spoiled} of {count} were spoiled in the normal course: the {good} good ones carry it"
            ));
        }
    }
    Ok(())
}

/// What spoiled garments still fetch, off the cost.
fn fetched(spoiled: i64, salvage: Millionths) -> CostItem {
    CostItem {
        of: vec![format!("what {spoiled} spoiled still fetch")],
        certainty: Certainty::Stated,
        ..CostItem::new(PriceGroup::Materials, "salvage", salvage.negated())
    }
}

/// What one good garment of a finished batch costs, as on its cost sheet, and is sold for.
pub(in crate::money::quotations) fn price_of_one(
    context: &Context<'_>,
    garment: &Garment,
    base: &Base,
    net: Millionths,
) -> Done<Option<QuotedBatch>> {
    let Some((good, spoiled)) = garment
        .good
        .zip(garment.spoiled)
        .filter(|(good, _)| *good > 0)
    else {
        return Ok(None);
    };
    if garment.count < 2 {
        return Ok(None);
    }
    let carried = CostItem::sum(&base.costs)?.max(Millionths::ZERO);
    let cost = per_good(carried, good, good, Millionths::ZERO, Spoilage::Normal);
    let (cost, net) = (cost.map_err(internal)?.each(), net.share(1, good)?);
    let loss = base.spoiled;
    Ok(Some(QuotedBatch {
        started: garment.count,
        good,
        spoiled,
        cost_each: Micro(cost),
        cost_each_printed: context.printed(cost),
        net_each: Micro(net),
        net_each_printed: context.printed(net),
        loss: Micro(loss),
        loss_printed: context.printed(loss),
    }))
}
