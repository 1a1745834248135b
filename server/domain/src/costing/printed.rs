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
    /// Job cost, rounded half up.
    pub job_cost: i64,
    /// Own mistakes, rounded half up.
    pub own_mistakes: i64,
    /// Faulty cloth, rounded half up.
    pub faulty_cloth: i64,
    /// Customer's changes, rounded half up.
    pub customer_changes: i64,
    /// Sum of the four printed totals above it, which may differ from the rounded exact sum by a unit or two.
    pub all_in: i64,
    /// The steps of the bridge in printing order, adding up to their own rounded total.
    pub bridge: Vec<(BridgeItem, i64)>,
    /// What the roundings of the totals leave between `planned` + `bridge` and `all_in`; mostly 0.
    pub rounding: i64,
}

impl CostSheet {
    /// The sheet in minor units of `digits` digits; `planned + Σ bridge + rounding = all_in`.
    ///
    /// - Rounding: totals half up; lines under a total by largest remainder, ties to the first.
    ///
    /// # Errors
    /// [`AllocationError::TooManyDigits`] above 6 digits, overflow.
    pub fn printed(&self, digits: u32) -> Result<PrintedSheet, CostError> {
        let plans: Vec<Millionths> = self.lines.iter().filter_map(|line| line.planned).collect();
        let actuals: Vec<Millionths> = self.lines.iter().map(|line| line.actual).collect();
        let (plans, planned) = round_to_total(&plans, digits)?;
        let (actuals, job_cost) = round_to_total(&actuals, digits)?;
        let mut plans = plans.into_iter();
        let mut lines = Vec::with_capacity(self.lines.len());
        for (line, actual) in self.lines.iter().zip(actuals) {
            let planned = line.planned.and_then(|_| plans.next());
            lines.push(PrintedLine { kind: line.kind, name: line.name.clone(), planned, actual });
        }
        let mut losses = vec![0; self.losses.len()];
        let own_mistakes = self.print_losses(LossReason::OwnMistake, digits, &mut losses)?;
        let faulty_cloth = self.print_losses(LossReason::FaultyCloth, digits, &mut losses)?;
        let customer_changes = self.print_losses(LossReason::CustomerChange, digits, &mut losses)?;
        let all_in = add_up([job_cost, own_mistakes, faulty_cloth, customer_changes])?;
        let items = self.bridge.items();
        let (steps, bridged) = round_to_total(&items.map(|(_, value)| value), digits)?;
        let bridge = items.iter().map(|(item, _)| *item).zip(steps).collect();
        let explained = add_up([planned, bridged])?;
        let rounding = all_in.checked_sub(explained).ok_or(AllocationError::Overflow)?;
        Ok(PrintedSheet {
            lines,
            losses,
            planned,
            job_cost,
            own_mistakes,
            faulty_cloth,
            customer_changes,
            all_in,
            bridge,
            rounding,
        })
    }

    /// Rounds the losses of one reason under their total, into their places in `printed`.
    fn print_losses(&self, reason: LossReason, digits: u32, printed: &mut [i64]) -> Result<i64, CostError> {
        let of_reason = || self.losses.iter().filter(|loss| loss.reason == reason);
        let exact: Vec<Millionths> = of_reason().map(|loss| loss.value).collect();
        let (parts, total) = round_to_total(&exact, digits)?;
        let places = printed.iter_mut().zip(&self.losses).filter(|(_, loss)| loss.reason == reason);
        for ((place, _), part) in places.zip(parts) {
            *place = part;
        }
        Ok(total)
    }
}

fn add_up<const N: usize>(amounts: [i64; N]) -> Result<i64, AllocationError> {
    amounts.into_iter().try_fold(0_i64, i64::checked_add).ok_or(AllocationError::Overflow)
}
