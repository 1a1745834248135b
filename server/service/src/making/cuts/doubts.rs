//! What is asked before material is cut that its need does not ask for.

use super::Case;
use crate::{
    desk::{Desk, failure::Done},
    promises::{Filled, fit, reservations::of_another_lot},
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{code::LotCode, setting::CutReason};

impl Case<'_> {
    /// Refuses another customer's cloth, and asks once about all else that a promise would have been refused for: a cut is a fact, but no
    /// slip. What was confirmed is noted. A toile or a swatch is of any cloth.
    pub(super) fn check_doubts(&mut self, desk: &mut Desk<'_>) -> Done<()> {
        if let Some(reason) = fit::not_the_owner(&self.garment, &self.shelved) {
            return Err(reason.refuse(&self.shelved, &self.need));
        }
        if matches!(self.request.reason, CutReason::Toile | CutReason::Swatch) {
            return Ok(());
        }
        let mut doubts = Vec::new();
        if self.reservation.is_none() {
            doubts = fit::doubts(desk, &self.garment, &self.need, &self.shelved)?;
            let filled = Filled::read(desk, &self.need)?;
            doubts.extend(of_another_lot(&self.need, &self.shelved, &filled));
            self.complete = filled.cut() >= self.need.row.units;
            if self.complete && self.request.reason == CutReason::Planned {
                doubts.push(format!("all of the {} is already cut", self.need.row.role));
            }
            doubts.extend(self.breaks_a_set(&filled));
        }
        doubts.extend(fit::still_to_do(&self.need, &self.shelved));
        if doubts.is_empty() {
            return Ok(());
        }
        let reasons = doubts.join("; ");
        if self.request.really {
            self.notes.push(format!("cut anyway: {reasons}"));
            return Ok(());
        }
        let (code, role) = (self.shelved.code(), &self.need.row.role);
        Err(Problem::new(
            ProblemType::NeedsConfirmation,
            format!("{code} for the {role}: {reasons}"),
        )
        .hint("nothing was cut; choose another piece, or confirm with --really")
        .with("doubts", doubts)
        .into())
    }

    /// A set that must match is of one lot: what is missing of the last open one is not taken of another.
    fn breaks_a_set(&self, filled: &Filled) -> Option<String> {
        let need = &self.need;
        let (begun, lot) = (filled.begun(), self.shelved.record.lot.id);
        if !(need.plan.matching() && need.plan.conditions.mixing)
            || begun.iter().any(|begun| begun.lot == lot)
            || i64::try_from(begun.len()).is_ok_and(|begun| begun < filled.open())
        {
            return None;
        }
        let first = begun.first()?;
        let (lot, missing) = (LotCode::new(first.lot), first.missing);
        Some(format!(
            "the {} must match, and the set begun from {lot} still needs {missing}",
            need.row.role
        ))
    }
}
