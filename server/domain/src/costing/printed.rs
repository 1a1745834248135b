//! A cost sheet in minor units, whose printed figures add up everywhere.

use super::{BridgeItem, CostError, CostSheet, LineKind, LossReason};
use crate::{
    allocation::{AllocationError, round_to_total},
    quantity::Millionths,
};

/// A printed line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedLine {
    /// What it is.
    pub kind: LineKind,
    /// Material or operation.
    pub name: String,
    /// Minor units; `None` where nothing was planned.
    pub planned: Option<i64>,
    /// Minor units.
    pub actual: i64,
}

/// A cost sheet in minor units of the workshop's currency.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedSheet {
    /// Shape: as [`CostSheet::lines`]; they add up to `planned` and `job_cost`.
    pub lines: Vec<PrintedLine>,
    /// Shape: as [`CostSheet::losses`]; those of one reason add up to that reason's total.
    pub losses: Vec<i64>,
    /// Planned cost, rounded half up.
    pub planned: i64,
    /// The lines of the job; with `customer_changes` the job as it is shown, rounded half up.
    pub job_cost: i64,
    /// Customer's changes.
    pub customer_changes: i64,
    /// Own mistakes; with `faulty_cloth` the loss as it is shown, rounded half up.
    pub own_mistakes: i64,
    /// Faulty cloth.
    pub faulty_cloth: i64,
    /// Job and loss as they are printed, which may differ from the rounded exact sum by a unit.
    pub all_in: i64,
    /// The steps of the bridge in printing order, adding up to their own rounded total.
    pub bridge: Vec<(BridgeItem, i64)>,
    /// What the roundings of the totals leave between `planned` + `bridge` and `all_in`; mostly 0.
    pub rounding: i64,
}

impl CostSheet {
    /// The sheet in minor units of `digits` digits; `planned + Σ bridge + rounding = all_in`.
    ///
    /// - Rounding: the plan, the job with the customer's changes, and the loss half up; lines under them by largest
    ///   remainder, ties to the first.
    ///
    /// # Errors
    /// [`AllocationError::TooManyDigits`] above 6 digits, overflow.
    pub fn printed(&self, digits: u32) -> Result<PrintedSheet, CostError> {
        let plans: Vec<Millionths> = self.lines.iter().filter_map(|line| line.planned).collect();
        let (plans, planned) = round_to_total(&plans, digits)?;
        let is_change = |reason| reason == LossReason::CustomerChange;
        let values = |change: bool| {
            let losses = self
                .losses
                .iter()
                .filter(move |loss| is_change(loss.reason) == change);
            losses.map(|loss| loss.value)
        };
        let job: Vec<Millionths> = self
            .lines
            .iter()
            .map(|line| line.actual)
            .chain(values(true))
            .collect();
        let (job, job_total) = round_to_total(&job, digits)?;
        let (lost, loss_total) = round_to_total(&values(false).collect::<Vec<_>>(), digits)?;
        let (mut plans, mut job, mut lost) = (plans.into_iter(), job.into_iter(), lost.into_iter());
        let mut lines = Vec::with_capacity(self.lines.len());
        for line in &self.lines {
            let planned = line.planned.and_then(|_| plans.next());
            let actual = job.next().unwrap_or(0);
            lines.push(PrintedLine {
                kind: line.kind,
                name: line.name.clone(),
                planned,
                actual,
            });
        }
        let mut printed = PrintedSheet {
            job_cost: add_up(lines.iter().map(|line| line.actual))?,
            lines,
            losses: Vec::with_capacity(self.losses.len()),
            planned,
            customer_changes: 0,
            own_mistakes: 0,
            faulty_cloth: 0,
            all_in: add_up([job_total, loss_total])?,
            bridge: Vec::new(),
            rounding: 0,
        };
        for loss in &self.losses {
            let part = if is_change(loss.reason) {
                job.next()
            } else {
                lost.next()
            }
            .unwrap_or(0);
            printed.losses.push(part);
            let total = match loss.reason {
                LossReason::CustomerChange => &mut printed.customer_changes,
                LossReason::OwnMistake => &mut printed.own_mistakes,
                LossReason::FaultyCloth => &mut printed.faulty_cloth,
            };
            *total = add_up([*total, part])?;
        }
        let items = self.bridge.items();
        let (steps, bridged) = round_to_total(&items.map(|(_, value)| value), digits)?;
        printed.bridge = items.iter().map(|(item, _)| *item).zip(steps).collect();
        let explained = add_up([planned, bridged])?;
        printed.rounding = printed
            .all_in
            .checked_sub(explained)
            .ok_or(AllocationError::Overflow)?;
        Ok(printed)
    }
}

fn add_up(amounts: impl IntoIterator<Item = i64>) -> Result<i64, AllocationError> {
    amounts
        .into_iter()
        .try_fold(0_i64, i64::checked_add)
        .ok_or(AllocationError::Overflow)
}
