//! What a garment costs, for its price: from the plan, or as it did cost.

use super::{Change, batch, material};
use crate::money::quotations::internal;
use crate::{
    desk::{Desk, context::Context, failure::Done, perform::Perform},
    garments::need::load_needs,
    money::costs::{Missing, PlanOf, booked, plan},
    promises::Standing,
};
use chrono::NaiveDate;
use ellwand_contract::{
    operations::GetEstimates,
    quotations::{PriceInput, QuotedCost},
};
use ellwand_domain::{
    allocation::round_alone,
    code::GarmentCode,
    costing::{CostItem, LineKind},
    pricing::{PriceBase, PriceGroup},
    quantity::{Millionths, Minutes},
    setting::{GarmentState, PriceFrom},
};
use ellwand_storage::Garment;

/// Costs behind a price.
#[derive(Default)]
pub(in crate::money::quotations) struct Base {
    /// Materials as asked for.
    pub(in crate::money::quotations) price: PriceBase,
    /// The same with materials at what it costs to replace them.
    pub(in crate::money::quotations) replaced: PriceBase,
    /// What the price rests on, as it is printed.
    pub(in crate::money::quotations) costs: Vec<CostItem>,
    /// All that is planned or was booked, what is lost or has no price among it.
    pub(in crate::money::quotations) source: Vec<CostItem>,
    pub(in crate::money::quotations) missing: Vec<Missing>,
    /// What spoiled garments of a batch cost, less what they still fetch.
    pub(in crate::money::quotations) spoiled: Millionths,
    /// Pay wanted for the own time that they took, which is not in the price.
    pub(in crate::money::quotations) own_lost: Millionths,
    pub(in crate::money::quotations) notes: Vec<String>,
    /// Of a supplement: what is agreed already, however it is priced now.
    pub(in crate::money::quotations) taken_as_agreed: Vec<CostItem>,
    /// Of a supplement: what the change is sold for.
    pub(in crate::money::quotations) change: Option<Change>,
}

impl Base {
    /// Sums alone, of which a price is made.
    pub(in crate::money::quotations) fn of(price: PriceBase) -> Self {
        Self {
            price,
            ..Self::default()
        }
    }

    /// `day`: whose rates count; none: as the plan's own.
    pub(in crate::money::quotations) fn work_out(
        desk: &mut Desk<'_>,
        garment: &Garment,
        from: PriceFrom,
        price: &PriceInput,
        day: Option<NaiveDate>,
    ) -> Done<Self> {
        let mut base = match from {
            PriceFrom::Plan => Self::planned(desk, garment, day)?,
            PriceFrom::Actual => Self::booked(desk, garment)?,
        };
        base.take()?;
        let (asked, mut replaced) = material::price(desk, garment, price, &mut base)?;
        let same = asked == replaced;
        if from == PriceFrom::Actual {
            batch::spread(desk.context, garment, &mut base, &mut replaced)?;
        }
        base.print(desk.context, &[])?;
        if !same {
            // A part of a cent is no other price.
            base.replaced.materials = minor(desk.context, replaced)?;
        }
        Ok(base)
    }

    fn planned(desk: &mut Desk<'_>, garment: &Garment, day: Option<NaiveDate>) -> Done<Self> {
        let figures_first = true;
        let mut costs = plan(desk, garment, PlanOf { day, figures_first })?;
        let asked = GetEstimates {
            garment: GarmentCode::new(garment.id),
        };
        for past in asked.perform(desk)?.operations {
            let Some((low, high)) = past.low_minutes.zip(past.high_minutes) else {
                continue;
            };
            let of = |each: i64| each.saturating_mul(garment.count);
            let own = |item: &&mut CostItem| {
                item.kind() == LineKind::Labour && item.name == past.operation
            };
            if let Some(item) = costs.items.iter_mut().find(own) {
                item.range = Some((of(low), of(high)));
            }
        }
        if costs
            .items
            .iter()
            .all(|item| item.kind() != LineKind::Labour)
        {
            let note = "no hours are planned: nothing of this price is for work";
            costs.notes.push(note.to_owned());
        }
        Ok(Self {
            source: costs.items,
            missing: costs.missing,
            notes: costs.notes,
            ..Self::default()
        })
    }

    fn booked(desk: &mut Desk<'_>, garment: &Garment) -> Done<Self> {
        let costs = booked(desk, garment, false)?;
        let mut missing = Vec::new();
        if matches!(garment.state, GarmentState::Planned | GarmentState::CutInto) {
            let standing = Standing::read(desk, garment.id)?;
            for need in load_needs(desk, garment)? {
                if standing.of(&need)?.cut() < need.row.units {
                    missing.push(Missing {
                        group: PriceGroup::Materials,
                        name: need.row.role,
                        share: String::new(),
                        why: "not all cut yet".to_owned(),
                        lots: Vec::new(),
                    });
                }
            }
        }
        missing.extend(costs.missing);
        Ok(Self {
            source: costs.items,
            missing,
            ..Self::default()
        })
    }

    /// Takes what a price is for out of the source: customer's changes are, losses are not. Own time lost is what the price is to
    /// pay for, not money that went.
    fn take(&mut self) -> Done<()> {
        let is_own = |item: &CostItem| item.group == PriceGroup::OwnLabour;
        let own = self.source.iter().filter(|item| is_own(item));
        let minutes = own.fold(0_i64, |sum, item| sum.saturating_add(item.minutes()));
        self.price.own_minutes = Minutes::new(minutes)?;
        let lost = self
            .source
            .iter()
            .filter(|item| item.is_lost() && !is_own(item));
        self.price.losses = CostItem::sum(lost)?;
        let priced = |item: &&CostItem| {
            let is_nothing = item.kind() == LineKind::Overhead && item.value.is_zero();
            !item.is_lost() && item.priced && (item.billable || is_own(item)) && !is_nothing
        };
        let priced_items = self.source.iter().filter(priced).cloned().map(|mut item| {
            match (item.kind(), item.loss.take()) {
                (LineKind::Material, Some(reason)) => item.of.push(reason.to_string()),
                (LineKind::Overhead, _) => item.of = vec!["on billable hours".to_owned()],
                _ => {}
            }
            item
        });
        let both = |one: &CostItem, other: &CostItem| {
            [one, other]
                .iter()
                .all(|item| item.kind() == LineKind::Overhead)
        };
        self.costs = CostItem::together(priced_items, both)?;
        Ok(())
    }

    /// The price rests on the amounts that are printed, so that it can be checked by pencil; losses are rounded alone. What is the
    /// same in another sheet is printed as there, so that two columns of one price say the same of it.
    pub(in crate::money::quotations) fn print(
        &mut self,
        context: &Context<'_>,
        like: &[CostItem],
    ) -> Done<()> {
        let same = self.replaced.materials == self.price.materials;
        let replaced = self.replaced.materials;
        self.price = self.printed(context, like)?.netted()?;
        self.replaced = self.price;
        if !same && !like.is_empty() {
            self.replaced.materials = replaced;
        }
        Ok(())
    }

    /// The sums of what is printed. A group of a change may be below zero.
    pub(in crate::money::quotations) fn printed(
        &mut self,
        context: &Context<'_>,
        like: &[CostItem],
    ) -> Done<PriceBase> {
        let sums = PriceBase::printed(&mut self.costs, like, context.currency);
        Ok(PriceBase {
            own_minutes: self.price.own_minutes,
            losses: minor(context, self.price.losses)?,
            ..sums.map_err(internal)?
        })
    }

    /// The costs as they are shown.
    pub(in crate::money::quotations) fn quoted(
        &self,
        context: &Context<'_>,
    ) -> Done<Vec<QuotedCost>> {
        let costs = self.costs.iter();
        costs
            .map(|item| super::quoted::quoted(context, item))
            .collect()
    }

    /// What has no price, as it is shown.
    pub(in crate::money::quotations) fn not_priced(&self) -> Vec<String> {
        self.missing.iter().map(Missing::text).collect()
    }

    /// Roles and operations that have to be priced before there is an offer, each once. What is agreed is not among them, and no
    /// hours where the price is given.
    pub(in crate::money::quotations) fn to_be_priced(&self, given: bool) -> Vec<String> {
        let mut all: Vec<String> = Vec::new();
        for missing in &self.missing {
            let is_material = missing.group == PriceGroup::Materials;
            let agreed = |known: &CostItem| {
                known.name == missing.name && (known.group == PriceGroup::Materials) == is_material
            };
            let counts = (is_material || !given) && !self.taken_as_agreed.iter().any(agreed);
            if counts && !all.contains(&missing.name) {
                all.push(missing.name.clone());
            }
        }
        all
    }

    /// True where not all of a role or an operation is priced.
    pub(in crate::money::quotations) fn is_missing(&self, item: &CostItem) -> bool {
        let is_material = item.group == PriceGroup::Materials;
        self.missing.iter().any(|missing| {
            missing.name == item.name && (missing.group == PriceGroup::Materials) == is_material
        })
    }
}

/// An amount alone, as it is printed.
pub(in crate::money::quotations) fn minor(
    context: &Context<'_>,
    amount: Millionths,
) -> Done<Millionths> {
    let minor = round_alone(amount, context.currency.digits()).map_err(internal)?;
    Ok(context.currency.money(minor).to_millionths()?)
}
