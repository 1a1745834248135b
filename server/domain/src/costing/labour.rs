//! Labour and overhead lines of a cost sheet.

use super::{
    CostError, HourlyCost, LabourLine, LineKind, LossLine, LossReason, SheetLine, labour_cost,
    sheet::CostSheet, variance::labour_variance_of_cost,
};
use crate::{
    allocation::{AllocationError, largest_remainder},
    quantity::{Millionths, Minutes},
};

/// Name of the overhead line.
const OVERHEAD: &str = "overhead";

/// Minutes that carry overhead, as the labour lines are added.
#[derive(Default)]
pub(super) struct Hours {
    planned: i64,
    job: i64,
    lost: Vec<(String, LossReason, i64)>,
}

fn sum(a: i64, b: i64) -> Result<i64, AllocationError> {
    a.checked_add(b).ok_or(AllocationError::Overflow)
}

/// Adds one operation to the sheet's lines, losses and bridge; overhead follows in [`add_overhead`].
pub(super) fn add(sheet: &mut CostSheet, hours: &mut Hours, line: &LabourLine) -> Result<(), CostError> {
    let (mut job, mut all, mut minutes) = (Millionths::ZERO, Millionths::ZERO, 0_i64);
    for done in &line.actual {
        let cost = labour_cost(done.minutes, done.rate)?;
        if !done.billable {
            sheet.unbillable = Minutes::new(sum(sheet.unbillable.get(), done.minutes.get())?)?;
            continue;
        }
        all = all.plus(cost)?;
        minutes = sum(minutes, done.minutes.get())?;
        match done.reason {
            None => {
                job = job.plus(cost)?;
                hours.job = sum(hours.job, done.minutes.get())?;
            }
            Some(reason) => {
                let name = line.operation.clone();
                hours.lost.push((name.clone(), reason, done.minutes.get()));
                sheet.losses.push(LossLine { kind: LineKind::Labour, name, reason, value: cost });
            }
        }
    }
    let bridge = &mut sheet.bridge;
    let mut planned = None;
    if let Some(plan) = line.planned {
        hours.planned = sum(hours.planned, plan.minutes.get())?;
        planned = Some(labour_cost(plan.minutes, plan.rate)?);
        let variance = labour_variance_of_cost(plan.minutes, plan.rate, minutes, all)?;
        bridge.time = bridge.time.plus(variance.time)?;
        bridge.rate = bridge.rate.plus(variance.rate)?;
    } else {
        bridge.unplanned = bridge.unplanned.plus(all)?;
    }
    sheet.lines.push(SheetLine {
        kind: LineKind::Labour,
        name: line.operation.clone(),
        planned,
        actual: job,
    });
    Ok(())
}

/// Adds overhead on the planned and on the worked minutes.
///
/// The overhead on all minutes is rounded once and split over the job and the lost minutes by largest remainder, so that
/// lost minutes within the planned time leave the bridge at exactly zero.
pub(super) fn add_overhead(sheet: &mut CostSheet, hours: Hours, rate: &HourlyCost) -> Result<(), CostError> {
    let mut weights = vec![hours.job];
    weights.extend(hours.lost.iter().map(|(_, _, minutes)| *minutes));
    let worked = weights.iter().try_fold(0_i64, |total, minutes| sum(total, *minutes))?;
    let planned = rate.of(hours.planned)?;
    let actual = rate.of(worked)?;
    let parts = if worked == 0 { vec![0; weights.len()] } else { largest_remainder(actual.get(), &weights)? };
    let mut parts = parts.into_iter();
    let job = Millionths::new(parts.next().unwrap_or(0))?;
    for ((name, reason, _), part) in hours.lost.into_iter().zip(parts) {
        let value = Millionths::new(part)?;
        if !value.is_zero() {
            sheet.losses.push(LossLine { kind: LineKind::Overhead, name, reason, value });
        }
    }
    sheet.bridge.overhead_on_extra_hours = actual.minus(planned)?;
    if !planned.is_zero() || !job.is_zero() {
        let planned = (hours.planned > 0).then_some(planned);
        sheet.lines.push(SheetLine {
            kind: LineKind::Overhead,
            name: OVERHEAD.to_owned(),
            planned,
            actual: job,
        });
    }
    Ok(())
}
