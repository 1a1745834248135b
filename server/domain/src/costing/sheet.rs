//! The cost sheet of a garment: planned beside actual.

use super::{
    Bridge, CostError, HourlyCost, LabourLine, LossLine, LossReason, MaterialLine, SheetLine,
    labour::{self, Hours},
    material,
};
use crate::quantity::{Millionths, Minutes, QuantityError};

/// What a cost sheet is made from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SheetInput {
    /// Materials, one line each.
    pub materials: Vec<MaterialLine>,
    /// Operations, one line each.
    pub labour: Vec<LabourLine>,
    /// Overhead per billable hour in the plan, and of work that names no other; [`HourlyCost::NONE`] without any.
    pub overhead: HourlyCost,
}

/// Planned and actual cost of a garment or batch, in millionths; see [`CostSheet::build`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CostSheet {
    /// Materials, operations, overhead; they add up to `planned` and `job_cost`.
    pub lines: Vec<SheetLine>,
    /// Losses and customer's changes, apart; they add up to the three totals below.
    pub losses: Vec<LossLine>,
    /// Planned cost.
    pub planned: Millionths,
    /// Cost of the good garments: normal waste included, losses not.
    pub job_cost: Millionths,
    /// Own mistakes: cloth, minutes and the overhead on them.
    pub own_mistakes: Millionths,
    /// Faulty cloth.
    pub faulty_cloth: Millionths,
    /// Changes the customer asked for.
    pub customer_changes: Millionths,
    /// Job cost and everything apart.
    pub all_in: Millionths,
    /// Planned → all-in.
    pub bridge: Bridge,
    /// Minutes that carry neither labour nor overhead.
    pub unbillable: Minutes,
}

impl CostSheet {
    /// Builds the sheet.
    ///
    /// - Rounding: every line once to the nearest millionth; sums and the bridge are exact.
    /// - Mistakes count in the bridge (as quantity or time), because all-in holds them; they never ride on `job_cost`.
    ///
    /// # Errors
    /// [`CostError`] naming the line that is wrong; overflow.
    pub fn build(input: &SheetInput) -> Result<Self, CostError> {
        let mut sheet = Self::empty();
        for line in &input.materials {
            material::add(&mut sheet, line)?;
        }
        let mut hours = Hours::default();
        for line in &input.labour {
            labour::add(&mut sheet, &mut hours, line)?;
        }
        labour::add_overhead(&mut sheet, hours, &input.overhead)?;
        sheet.planned = Millionths::sum(sheet.lines.iter().filter_map(|line| line.planned))?;
        sheet.job_cost = Millionths::sum(sheet.lines.iter().map(|line| line.actual))?;
        sheet.own_mistakes = sheet.lost_to(LossReason::OwnMistake)?;
        sheet.faulty_cloth = sheet.lost_to(LossReason::FaultyCloth)?;
        sheet.customer_changes = sheet.lost_to(LossReason::CustomerChange)?;
        let apart = [
            sheet.own_mistakes,
            sheet.faulty_cloth,
            sheet.customer_changes,
        ];
        sheet.all_in = Millionths::sum(apart)?.plus(sheet.job_cost)?;
        Ok(sheet)
    }

    /// What went apart for one reason.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn lost_to(&self, reason: LossReason) -> Result<Millionths, QuantityError> {
        let lines = self.losses.iter().filter(|loss| loss.reason == reason);
        Millionths::sum(lines.map(|loss| loss.value))
    }

    fn empty() -> Self {
        Self {
            lines: Vec::new(),
            losses: Vec::new(),
            planned: Millionths::ZERO,
            job_cost: Millionths::ZERO,
            own_mistakes: Millionths::ZERO,
            faulty_cloth: Millionths::ZERO,
            customer_changes: Millionths::ZERO,
            all_in: Millionths::ZERO,
            bridge: Bridge::default(),
            unbillable: Minutes::ZERO,
        }
    }
}
