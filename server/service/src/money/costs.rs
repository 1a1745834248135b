//! What a garment costs, planned and booked: the two sources of every sheet and price.

mod booked;
mod flows;
mod kept;
mod late;
mod plan;
mod sheet;

pub(crate) use booked::{booked, materials as booked_materials};
pub(crate) use kept::{OpenPlan, keep_all, keep_cut};
pub(crate) use late::billed_late;
pub(crate) use plan::{PlanOf, plan};

use crate::{
    desk::{Desk, context::Context, failure::Done},
    shelf::{
        shelved::{LotRecord, amount},
        worth::Worth,
    },
};
use ellwand_contract::{Amount, Problem, ProblemType};
use ellwand_domain::{
    certainty::Certainty,
    code::LotCode,
    costing::{self, BatchCost, CostError, CostItem, Extent, PriceGroup, Spoilage},
    ledger::Quantity,
    quantity::{Micrometres, Millionths, Minutes},
};
use ellwand_storage::Garment;

/// Costs of one source.
#[derive(Debug, Default)]
pub(crate) struct Costs {
    pub(crate) items: Vec<CostItem>,
    /// What has no price, or not all of it.
    pub(crate) missing: Vec<Missing>,
    pub(crate) notes: Vec<String>,
}

/// Something that has no price.
#[derive(Debug, Clone)]
pub(crate) struct Missing {
    pub(crate) group: PriceGroup,
    /// Role or operation.
    pub(crate) name: String,
    /// How much of it: `, 2 of 3`, or the minutes that were worked.
    pub(crate) share: String,
    pub(crate) why: String,
    /// Lots whose price is not known, where that is why.
    pub(crate) lots: Vec<i64>,
}

impl Missing {
    /// As a quotation says it.
    pub(crate) fn text(&self) -> String {
        match self.group {
            PriceGroup::Materials => format!("{}{}: {}", self.name, self.share, self.why),
            _ => format!("{}: {}", self.name, self.why),
        }
    }

    /// As a sheet says it of what was done.
    pub(crate) fn worked(&self) -> String {
        let Self {
            name, share, why, ..
        } = self;
        match self.group {
            PriceGroup::Materials => format!("the {name}{share} is not priced: {why}"),
            _ => format!("{share} of {name} are not priced: {why}"),
        }
    }
}

impl Costs {
    /// Adds the name of what is unpriced in the given way.
    fn miss(&mut self, group: PriceGroup, name: &str, share: String, why: String) {
        let name = name.to_owned();
        self.missing.push(Missing {
            group,
            name,
            share,
            why,
            lots: Vec::new(),
        });
    }

    /// Adds a material of lots whose price is not known.
    fn miss_price(&mut self, context: &Context<'_>, item: &CostItem) -> Done<()> {
        let codes: Vec<String> = item
            .lots
            .iter()
            .map(|lot| LotCode::new(*lot).to_string())
            .collect();
        let amount = extent_text(context, item.extent)?;
        self.missing.push(Missing {
            group: item.group,
            name: item.name.clone(),
            share: amount.map_or_else(String::new, |amount| format!(" ({amount})")),
            why: format!("the price of {} is not known", codes.join(", ")),
            lots: item.lots.clone(),
        });
        Ok(())
    }
}

/// A quantity for people: `2.60 m`, `6 pcs`, `9 h`; nothing for none.
pub(crate) fn extent_text(context: &Context<'_>, extent: Option<Extent>) -> Done<Option<String>> {
    Ok(match extent {
        Some(Extent::Length(um @ 1..)) => Some(Micrometres::new(um)?.show_taken(context.units())),
        Some(Extent::Count(count @ 1..)) => Some(format!("{count} pcs")),
        Some(Extent::Minutes(minutes @ 1..)) => Some(Minutes::new(minutes)?.to_string()),
        _ => None,
    })
}

/// A quantity of a material as it travels; nothing for time.
pub(crate) fn amount_of(extent: Option<Extent>) -> Done<Option<Amount>> {
    Ok(match extent {
        Some(Extent::Length(um)) => Some(amount(false, Quantity::new(um)?)),
        Some(Extent::Count(count)) => Some(amount(true, Quantity::new(count)?)),
        _ => None,
    })
}

/// How the price of a lot is known, where the book does not say it.
fn known(record: &LotRecord, certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Unknown => ", price unknown",
        Certainty::Estimated if record.lot.unpriced => ", at its replacement price",
        Certainty::Estimated => ", value estimated",
        Certainty::Measured | Certainty::Stated => "",
    }
}

/// A cost of a lot, as it is read: `L1 navy wool`, and how its price is known where the book has none.
fn of_lot(name: &str, record: &LotRecord, quantity: i64, worth: Worth) -> CostItem {
    let known = known(record, worth.certainty);
    CostItem {
        of: vec![format!("{} {}{known}", record.code(), record.material.name)],
        certainty: worth.certainty,
        priced: worth.is_known(),
        lots: vec![record.lot.id],
        material: Some(record.material.id),
        extent: Some(Extent::of_material(record.is_counted(), quantity)),
        ..CostItem::new(PriceGroup::Materials, name, worth.value)
    }
}

/// What each good one of a finished garment costs, losses left out; none while it is not known how many are good.
fn per_good(garment: &Garment, booked: &[CostItem]) -> Done<Result<Option<BatchCost>, CostError>> {
    let Some(good) = garment.good else {
        return Ok(Ok(None));
    };
    let job = CostItem::sum(booked.iter().filter(|item| !item.is_lost()))?;
    let spoilage = garment.spoilage.unwrap_or(Spoilage::Normal);
    let salvage = Millionths::new(garment.salvage)?;
    Ok(costing::per_good(job, garment.count, good, salvage, spoilage).map(Some))
}

/// What each good one of a batch would cost: `good` and `spoiled` need not be saved yet.
pub(crate) fn batch(
    desk: &mut Desk<'_>,
    garment: &Garment,
) -> Done<Result<Option<BatchCost>, CostError>> {
    per_good(garment, &booked(desk, garment, false)?.items)
}

pub(crate) fn internal(error: impl std::fmt::Display) -> Problem {
    Problem::new(
        ProblemType::Internal,
        format!("a cost cannot be worked out: {error}"),
    )
}
