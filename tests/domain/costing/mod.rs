//! Job costing: rates, variances, cost sheets, batches.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 125_61 is 125.61"
)]
#![expect(clippy::unwrap_used, reason = "a failed expectation ends the test")]

mod batch;
mod rates;
mod sheet;
mod variances;

use ellwand_domain::{
    costing::{
        BridgeItem, Comparison, CostError, CostItem, CostSheet, Extent, HourlyCost, LossReason,
        PriceGroup, VarianceKind, labour_cost, overhead_on, planned_overhead,
    },
    quantity::{Millionths, Minutes},
};
use proptest::prelude::*;

fn m(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

fn cents(minor: i64) -> Millionths {
    m(minor * 10_000)
}

fn min(minutes: i64) -> Minutes {
    Minutes::new(minutes).unwrap()
}

/// A rate over whole hours.
fn over(amount: i64, hours: i64) -> HourlyCost {
    HourlyCost::over(cents(amount * 100), hours * 60).unwrap()
}

fn applied(rate: &HourlyCost, hours: i64) -> Millionths {
    rate.of(hours * 60).unwrap()
}

/// A quantity of a material and its cost.
#[derive(Debug, Clone, Copy)]
struct Used {
    quantity: i64,
    value: Millionths,
}

fn used(quantity: i64, value: Millionths) -> Used {
    Used { quantity, value }
}

#[derive(Debug, Clone)]
struct MaterialLine {
    name: String,
    planned: Option<Used>,
    actual: Used,
    losses: Vec<(Used, LossReason)>,
}

/// A material used as it was planned.
fn as_planned(name: &str, value: Millionths) -> MaterialLine {
    MaterialLine {
        name: name.into(),
        planned: Some(used(1, value)),
        actual: used(1, value),
        losses: vec![],
    }
}

#[derive(Debug, Clone, Copy)]
struct WorkDone {
    minutes: Minutes,
    rate: HourlyCost,
    billable: bool,
    reason: Option<LossReason>,
    /// Overhead of the day, where it is not the plan's.
    overhead: Option<HourlyCost>,
}

#[derive(Debug, Clone)]
struct LabourLine {
    operation: String,
    planned: Option<(Minutes, HourlyCost)>,
    actual: Vec<WorkDone>,
}

fn done(minutes: i64, rate: i64) -> WorkDone {
    WorkDone {
        minutes: min(minutes),
        rate: HourlyCost::per_hour(rate).unwrap(),
        billable: true,
        reason: None,
        overhead: None,
    }
}

fn work(operation: &str, planned: Option<(i64, i64)>, actual: Vec<WorkDone>) -> LabourLine {
    let rate = |rate| HourlyCost::per_hour(rate).unwrap();
    LabourLine {
        operation: operation.into(),
        planned: planned.map(|(minutes, per_hour)| (min(minutes), rate(per_hour))),
        actual,
    }
}

#[derive(Debug, Clone)]
struct SheetInput {
    materials: Vec<MaterialLine>,
    labour: Vec<LabourLine>,
    overhead: HourlyCost,
}

impl SheetInput {
    /// What is planned, and what is booked; each material has a lot of its own.
    fn items(&self) -> (Vec<CostItem>, Vec<CostItem>) {
        let (mut plan, mut booked) = (Vec::new(), Vec::new());
        for (lot, line) in (1..).zip(&self.materials) {
            let of = |used: Used, loss| CostItem {
                lots: vec![lot],
                extent: Some(Extent::Count(used.quantity)),
                loss,
                ..CostItem::new(PriceGroup::Materials, &line.name, used.value)
            };
            plan.extend(line.planned.map(|planned| of(planned, None)));
            booked.push(of(line.actual, None));
            booked.extend(
                line.losses
                    .iter()
                    .map(|(used, reason)| of(*used, Some(*reason))),
            );
        }
        let mut minutes = 0;
        let mut worked = Vec::new();
        for line in &self.labour {
            let of = |minutes: Minutes, value| CostItem {
                extent: Some(Extent::Minutes(minutes.get())),
                ..CostItem::new(PriceGroup::OwnLabour, &line.operation, value)
            };
            if let Some((planned, rate)) = line.planned {
                minutes += planned.get();
                plan.push(of(planned, rate.of(planned.get()).unwrap()));
            }
            for done in &line.actual {
                let value = if done.billable {
                    done.rate.of(done.minutes.get()).unwrap()
                } else {
                    m(0)
                };
                let item = CostItem {
                    billable: done.billable,
                    loss: done.reason,
                    ..of(done.minutes, value)
                };
                worked.push((item, done.overhead.unwrap_or(self.overhead)));
            }
        }
        if minutes > 0 {
            plan.push(planned_overhead(minutes, &self.overhead).unwrap());
        }
        let billable: Vec<_> = worked
            .iter()
            .filter(|(item, _)| item.billable)
            .map(|(item, rate)| (item, *rate))
            .collect();
        let overhead = overhead_on(&billable).unwrap();
        booked.extend(worked.into_iter().map(|(item, _)| item));
        booked.extend(overhead);
        (plan, booked)
    }

    fn sheet(&self) -> Result<CostSheet, CostError> {
        let (plan, booked) = self.items();
        CostSheet::of(&plan, &booked, 2)
    }
}

/// A step of the bridge, exact and in cents; nothing where it is not shown.
fn step(sheet: &CostSheet, item: BridgeItem) -> (Millionths, i64) {
    let step = sheet.bridge.iter().find(|step| step.kind == Some(item));
    step.map_or((m(0), 0), |step| (step.value, step.printed))
}
