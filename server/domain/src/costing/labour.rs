//! Labour and overhead lines of a cost sheet.

use super::{
    CostError, HourlyCost, LabourLine, LineKind, LossLine, LossReason, SheetLine, sheet::CostSheet,
    variance::labour_variance_of_cost,
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
    worked: Vec<Worked>,
}

/// Billable minutes of the job or, with a name and a reason, lost ones.
struct Worked {
    minutes: i64,
    lost: Option<(String, LossReason)>,
    overhead: Option<HourlyCost>,
}

fn sum(a: i64, b: i64) -> Result<i64, AllocationError> {
    a.checked_add(b).ok_or(AllocationError::Overflow)
}

/// Adds one operation to the sheet's lines, losses and bridge; overhead follows in [`add_overhead`].
pub(super) fn add(
    sheet: &mut CostSheet,
    hours: &mut Hours,
    line: &LabourLine,
) -> Result<(), CostError> {
    let (mut job, mut all, mut minutes) = (Millionths::ZERO, Millionths::ZERO, 0_i64);
    for done in &line.actual {
        let cost = done.rate.of(done.minutes.get())?;
        if !done.billable {
            sheet.unbillable = Minutes::new(sum(sheet.unbillable.get(), done.minutes.get())?)?;
            continue;
        }
        all = all.plus(cost)?;
        minutes = sum(minutes, done.minutes.get())?;
        let lost = done.reason.map(|reason| (line.operation.clone(), reason));
        match lost.clone() {
            None => job = job.plus(cost)?,
            Some((name, reason)) => {
                sheet.losses.push(LossLine {
                    kind: LineKind::Labour,
                    name,
                    reason,
                    value: cost,
                });
            }
        }
        hours.worked.push(Worked {
            minutes: done.minutes.get(),
            lost,
            overhead: done.overhead,
        });
    }
    let bridge = &mut sheet.bridge;
    let mut planned = None;
    if let Some(plan) = line.planned {
        hours.planned = sum(hours.planned, plan.minutes.get())?;
        planned = Some(plan.rate.of(plan.minutes.get())?);
        let variance = labour_variance_of_cost(plan.minutes, &plan.rate, minutes, all)?;
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

/// Adds overhead on the planned and on the worked minutes, each at the rate of its day.
///
/// The overhead on all minutes of one rate is rounded once and split over the job and the lost minutes by largest
/// remainder, so that lost minutes within the planned time leave the bridge at exactly zero. What another rate than the
/// plan's changes is part of the bridge's rate.
pub(super) fn add_overhead(
    sheet: &mut CostSheet,
    hours: Hours,
    rate: &HourlyCost,
) -> Result<(), CostError> {
    let Hours {
        planned: planned_minutes,
        worked,
    } = hours;
    let planned = rate.of(planned_minutes)?;
    let all = worked
        .iter()
        .try_fold(0_i64, |total, part| sum(total, part.minutes))?;
    let extra = rate.of(all)?.minus(planned)?;
    let mut parts = vec![Millionths::ZERO; worked.len()];
    let mut actual = Millionths::ZERO;
    let mut rates: Vec<HourlyCost> = Vec::new();
    for part in &worked {
        let own = part.overhead.unwrap_or(*rate);
        if !rates.contains(&own) {
            rates.push(own);
        }
    }
    for own in rates {
        let of_rate = |part: &Worked| part.overhead.unwrap_or(*rate) == own;
        let weights: Vec<i64> = worked
            .iter()
            .map(|part| if of_rate(part) { part.minutes } else { 0 })
            .collect();
        let minutes = weights
            .iter()
            .try_fold(0_i64, |total, minutes| sum(total, *minutes))?;
        let amount = own.of(minutes)?;
        actual = actual.plus(amount)?;
        if minutes > 0 {
            for (part, share) in parts
                .iter_mut()
                .zip(largest_remainder(amount.get(), &weights)?)
            {
                *part = part.plus(Millionths::new(share)?)?;
            }
        }
    }
    let mut job = Millionths::ZERO;
    for (part, value) in worked.into_iter().zip(parts) {
        match part.lost {
            None => job = job.plus(value)?,
            Some((name, reason)) if !value.is_zero() => {
                sheet.losses.push(LossLine {
                    kind: LineKind::Overhead,
                    name,
                    reason,
                    value,
                });
            }
            Some(_) => {}
        }
    }
    sheet.bridge.overhead_on_extra_hours = extra;
    sheet.bridge.rate = sheet
        .bridge
        .rate
        .plus(actual.minus(planned)?.minus(extra)?)?;
    if !planned.is_zero() || !job.is_zero() {
        let planned = (planned_minutes > 0).then_some(planned);
        sheet.lines.push(SheetLine {
            kind: LineKind::Overhead,
            name: OVERHEAD.to_owned(),
            planned,
            actual: job,
        });
    }
    Ok(())
}
