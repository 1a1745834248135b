//! The sum, line by line, to be checked with a pencil.

use super::ClothFit;
use crate::{quantity::Units, setting::Basis};

impl ClothFit {
    /// The sum in the order it was done: washed length, raw length, allowance, rounding, width.
    #[must_use]
    pub fn steps(&self, units: Units) -> Vec<String> {
        let mut steps = Vec::new();
        let show = |length: crate::quantity::Micrometres| length.show(units);
        match (self.basis, &self.shrinkage) {
            (Basis::Raw, Some(chosen)) => {
                steps.push(format!(
                    "{} needed ÷ {}/{} left lengthwise ({}) = {} raw",
                    show(self.washed),
                    chosen.length.after(),
                    chosen.length.before(),
                    chosen.length.factor_text(),
                    show(self.bare)
                ));
            }
            _ => steps.push(format!("{} as it is cut", show(self.washed))),
        }
        let mut length = self.bare;
        if !self.rule.end_allowance.is_zero() {
            let with = length.plus(self.rule.end_allowance).unwrap_or(length);
            let allowance = self.rule.end_allowance.show_width(units);
            steps.push(format!("{} + {allowance} end allowance = {}", show(length), show(with)));
            length = with;
        }
        if length != self.takes {
            let step = self.rule.step.show_width(units);
            steps.push(format!(
                "{} rounded up to the cutting step of {step} = {}",
                show(length),
                show(self.takes)
            ));
        }
        if let Some(width) = self.width {
            let when = if self.basis == Basis::Raw { " after preparation" } else { "" };
            steps.push(format!(
                "usable width{when} {} ≥ {} asked",
                self.usable.show_width(units),
                width.show_width(units)
            ));
        }
        steps
    }
}
