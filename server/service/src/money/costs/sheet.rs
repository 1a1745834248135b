//! The cost sheet as it travels; every printed column adds up to its printed total.

use super::{Costs, PlanOf, amount_of, billed_late, booked, extent_text, internal, per_good, plan};
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure},
        perform::Perform,
    },
    garments::need::load_head,
    shelf::stiffness,
};
use ellwand_contract::{
    Micro,
    costs::{BridgeStep, CostGroup, CostLine, CostPair, CostSheet as View, GetCost, PerGood},
};
use ellwand_domain::{
    code::GarmentCode,
    costing::{
        CostItem, CostRow, CostSheet, Extent, LineKind, LossReason, PriceGroup, Total, head,
    },
    quantity::Minutes,
};
use ellwand_storage::Garment;

impl Perform for GetCost {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let garment = load_head(desk, self.garment)?;
        let of = PlanOf {
            day: None,
            figures_first: false,
        };
        let plan = plan(desk, &garment, of)?;
        let booked = booked(desk, &garment, false)?;
        let mut sheet = Writer {
            context: desk.context,
        }
        .sheet(&garment, &plan, &booked)?;
        sheet.stiffness = stiffness::on_cost_sheet(desk, &garment)?;
        sheet.notes.extend(billed_late(desk, &garment)?);
        Ok(sheet)
    }
}

/// Writes amounts in the workshop's currency.
struct Writer<'a, 'b> {
    context: &'a Context<'b>,
}

impl Writer<'_, '_> {
    fn text(&self, minor: i64) -> String {
        self.context.currency.money(minor).decimal()
    }

    fn pair(&self, planned: Option<Total>, actual: Option<Total>) -> CostPair {
        let printed = |total: Option<Total>| total.map(|total| self.text(total.printed));
        CostPair {
            planned: planned.map(|total| Micro(total.value)),
            actual: actual.map(|total| Micro(total.value)),
            planned_printed: printed(planned),
            actual_printed: printed(actual),
        }
    }

    fn sheet(&self, garment: &Garment, plan: &Costs, booked: &Costs) -> Done<View> {
        let digits = self.context.currency.digits();
        let sheet = CostSheet::of(&plan.items, &booked.items, digits).map_err(internal)?;
        let unpriced = Unpriced::of(plan, booked);
        let (mut lines, mut losses) = (Vec::new(), Vec::new());
        for row in &sheet.lines {
            lines.extend(self.line(row)?);
        }
        for item in &sheet.apart {
            let line = self.apart(item)?;
            if item.is_lost() {
                losses.push(line);
            } else {
                lines.push(line);
            }
        }
        let changes = sheet.apart(LossReason::is_change)?;
        let lost = sheet.apart(|reason| !reason.is_change())?;
        let known = |total: Total, unknown: bool| Some(total).filter(|_| !unknown);
        let planned = known(sheet.planned, unpriced.planned);
        let worked = known(sheet.job.plus(changes)?, unpriced.job);
        let losing = known(lost, unpriced.lost);
        let all = known(sheet.all_in, unpriced.job || unpriced.lost);
        let mut notes = self.notes(plan, booked)?;
        notes.extend(unpriced.no_total());
        let has_totals = planned.is_some() && all.is_some();
        Ok(View {
            garment: GarmentCode::new(garment.id),
            name: garment.name.clone(),
            state: garment.state,
            count: garment.count,
            currency: self.context.currency.code().to_owned(),
            lines,
            job: self.pair(planned, worked),
            losses,
            loss: self.pair(Some(Total::default()), losing),
            all: self.pair(planned, all),
            customer_changes: self.pair(Some(Total::default()), Some(changes)),
            bridge: if has_totals {
                self.bridge(&sheet)
            } else {
                Vec::new()
            },
            per_good: match unpriced.job {
                true => None,
                false => self.per_good(garment, &booked.items, &mut notes)?,
            },
            stiffness: Vec::new(),
            notes,
        })
    }

    /// Nothing where only a loss or a customer's change stands for it, on a line of its own.
    fn line(&self, row: &CostRow<2>) -> Done<Option<CostLine>> {
        let [planned, actual] = row;
        let Some(first) = head(row) else {
            return Ok(None);
        };
        let total = |item: &Option<CostItem>| {
            let item = item.as_ref();
            Total::of(item).map(|total| Some(total).filter(|_| item.is_none_or(|item| item.priced)))
        };
        let nothing = |item: &CostItem| item.value.is_zero();
        if first.kind() == LineKind::Overhead && row.iter().flatten().all(nothing) {
            return Ok(None);
        }
        let of = [actual, planned].into_iter().flatten().next();
        let mut of = of.map(|item| item.of.clone()).unwrap_or_default();
        if first.kind() == LineKind::Labour {
            of.sort_unstable();
        }
        let extent = |item: &Option<CostItem>| item.as_ref().and_then(|item| item.extent);
        let [planned_extent, actual_extent] = [extent(planned), extent(actual)];
        // A material that is on one side alone is none of on the other.
        let beside = |own: Option<Extent>, other: Option<Extent>| {
            own.or(other.map(|other| other.of_same(0)))
        };
        Ok(Some(CostLine {
            group: group(first.group),
            name: first.name.clone(),
            detail: of.join(", "),
            planned_quantity: extent_text(self.context, planned_extent)?,
            actual_quantity: extent_text(self.context, actual_extent)?,
            planned_amount: amount_of(beside(planned_extent, actual_extent))?,
            actual_amount: amount_of(beside(actual_extent, planned_extent))?,
            cost: self.pair(total(planned)?, total(actual)?),
            planned_known: planned.as_ref().is_none_or(|item| item.priced),
        }))
    }

    fn apart(&self, item: &CostItem) -> Done<CostLine> {
        let mut of = item.of.clone();
        of.sort_unstable();
        of.extend(item.loss.map(|reason| reason.to_string()));
        let total = Total {
            value: item.value,
            printed: item.printed,
        };
        let is_overhead = item.kind() == LineKind::Overhead;
        let extent = item.extent.filter(|_| !is_overhead);
        Ok(CostLine {
            group: group(item.group),
            name: item.name.clone(),
            detail: of.join(", "),
            planned_quantity: None,
            actual_quantity: extent_text(self.context, extent)?,
            planned_amount: amount_of(extent.map(|extent| extent.of_same(0)))?,
            actual_amount: amount_of(extent)?,
            cost: self.pair(Some(Total::default()), Some(total).filter(|_| item.priced)),
            planned_known: true,
        })
    }

    /// What is not priced, and what else there is to say.
    fn notes(&self, plan: &Costs, booked: &Costs) -> Done<Vec<String>> {
        let mut notes = booked.notes.clone();
        let (materials, work): (Vec<_>, Vec<_>) = plan
            .missing
            .iter()
            .partition(|missing| missing.group == PriceGroup::Materials);
        let (unknown, materials): (Vec<_>, Vec<_>) = materials
            .into_iter()
            .partition(|missing| !missing.lots.is_empty());
        let planned = unknown.iter().map(|missing| {
            format!(
                "the {} is not priced in the plan: {}",
                missing.name, missing.why
            )
        });
        notes.extend(planned);
        if !materials.is_empty() {
            let roles: Vec<&str> = materials
                .iter()
                .map(|missing| missing.name.as_str())
                .collect();
            notes.push(format!(
                "not priced, since nothing is promised, on the shelf or estimated: {}",
                roles.join(", ")
            ));
        }
        let unpriced = work.iter().map(|missing| {
            format!(
                "{} is not priced in the plan: {}",
                missing.name, missing.why
            )
        });
        notes.extend(unpriced);
        notes.extend(booked.missing.iter().map(super::Missing::worked));
        let unbillable = booked.items.iter().filter(|item| !item.billable);
        let unbillable = unbillable.fold(0, |sum: i64, item| sum.saturating_add(item.minutes()));
        if unbillable > 0 {
            let time = Minutes::new(unbillable)?;
            notes.push(format!(
                "{time} are not billable and carry neither labour nor overhead"
            ));
        }
        if !plan.missing.is_empty() {
            notes.push("the planned cost leaves out what is not priced".to_owned());
        }
        Ok(notes)
    }

    fn bridge(&self, sheet: &CostSheet) -> Vec<BridgeStep> {
        let step = |step: &ellwand_domain::costing::Step<_>| BridgeStep {
            name: step.kind.map_or_else(
                || "rounding".to_owned(),
                |kind: ellwand_domain::costing::BridgeItem| kind.to_string(),
            ),
            amount: Micro(step.value),
            printed: self.text(step.printed),
        };
        sheet.bridge.iter().map(step).collect()
    }

    fn per_good(
        &self,
        garment: &Garment,
        booked: &[CostItem],
        notes: &mut Vec<String>,
    ) -> Done<Option<PerGood>> {
        let batch = match per_good(garment, booked)? {
            Ok(Some(batch)) => batch,
            Ok(None) => return Ok(None),
            Err(error) => {
                notes.push(format!(
                    "the cost of each good one cannot be worked out: {error}"
                ));
                return Ok(None);
            }
        };
        Ok(Some(PerGood {
            good: garment.good.unwrap_or(0),
            spoiled: garment.spoiled.unwrap_or(0),
            each: Micro(batch.each()),
            each_printed: self.context.printed(batch.each()),
            loss: Micro(batch.loss),
            loss_printed: self.context.printed(batch.loss),
        }))
    }
}

/// Hours without a rate, or material of which no price is known: there is no total.
struct Unpriced {
    of_work: bool,
    planned: bool,
    job: bool,
    lost: bool,
}

impl Unpriced {
    fn of(plan: &Costs, booked: &Costs) -> Self {
        let unpriced = |items: &[CostItem], of: fn(&CostItem) -> bool| {
            items.iter().any(|item| !item.priced && of(item))
        };
        let of_work = |item: &CostItem| item.kind() == LineKind::Labour;
        Self {
            of_work: unpriced(&plan.items, of_work) || unpriced(&booked.items, of_work),
            planned: unpriced(&plan.items, |item| item.kind() == LineKind::Labour),
            job: unpriced(&booked.items, |item| !item.is_lost()),
            lost: unpriced(&booked.items, CostItem::is_lost),
        }
    }

    fn no_total(&self) -> Option<String> {
        let which = match (self.planned, self.job || self.lost) {
            (true, true) => "total",
            (true, false) => "planned total",
            (false, true) => "actual total",
            (false, false) => return None,
        };
        Some(match self.of_work {
            true => format!("hours without a rate are not priced, so there is no {which}"),
            false => format!("not all of it has a price, so there is no {which}"),
        })
    }
}

const fn group(group: PriceGroup) -> CostGroup {
    match group.kind() {
        LineKind::Material => CostGroup::Material,
        LineKind::Labour => CostGroup::Labour,
        LineKind::Overhead => CostGroup::Overhead,
    }
}
