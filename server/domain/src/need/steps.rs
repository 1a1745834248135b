//! The sum, line by line, to be checked with a pencil.

use super::{ClothFit, Laid, LaidPart, WidthLength};
use crate::{
    quantity::{
        Units,
        print::{decimal, show_area},
    },
    setting::{Basis, Grain},
};

impl Laid {
    /// The rows part by part, then their length beside the area.
    #[must_use]
    pub fn steps(&self, units: Units) -> Vec<String> {
        let mut steps: Vec<String> = self
            .parts
            .iter()
            .map(|laid| self.row(laid, units))
            .collect();
        steps.push(format!(
            "rows together {} at {}; the parts' area, {}, is {} % of that: no lay is shorter than {}",
            self.rows.show_taken(units),
            self.usable.show_width(units),
            show_area(self.area_um2, units),
            decimal(self.used(self.rows).thousandths(), 1, 0),
            self.least.show_taken(units)
        ));
        if let Some(lay) = self.lay.filter(|_| self.own.is_none()) {
            let width = lay.width.unwrap_or(self.usable);
            // What is taken of a width is shown up.
            let (_, width) = self.usable.show_width_beside(width, units);
            steps.push(format!(
                "laid among one another they take {} and {width} of the width, {} % used: that counts instead of the rows",
                lay.length.show_taken(units),
                decimal(self.used(lay.length).thousandths(), 1, 0),
            ));
        }
        let (named, counts) = match (self.kept, self.own) {
            (Some(kept), _) => (format!("the kept lay {}", kept.lay), kept.into()),
            (None, Some(own)) => ("your own lay".to_owned(), own),
            (None, None) => return steps,
        };
        let WidthLength { width, length } = counts;
        let at = width.map_or_else(String::new, |width| {
            format!(" at {}", width.show_width(units))
        });
        steps.push(format!(
            "{named} of {}{at} counts instead of the rows",
            length.show_taken(units)
        ));
        let others = [self.kept.and(self.own), self.lay].into_iter().flatten();
        let found = others.map(|other| other.length).fold(self.rows, Ord::min);
        if found < length {
            steps.push(format!(
                "a shorter one is possible: {} at {}",
                found.show_taken(units),
                self.usable.show_width(units)
            ));
        }
        steps
    }

    /// `2 × collar, 46 × 12 cm less 1 cm all round = 44 × 10 cm: 2 to a row at 90 cm, 1 row of 44 cm`.
    fn row(&self, laid: &LaidPart, units: Units) -> String {
        let LaidPart {
            part,
            count,
            per_row,
            rows,
            height,
        } = laid;
        let height = height.show_width(units);
        let turned = match part.grain() {
            Grain::Lengthwise => String::new(),
            Grain::Crosswise => ", turned by 90°".to_owned(),
            Grain::Bias => format!(", on the bias {height} each way"),
        };
        let rows = match rows {
            1 => format!("1 row of {height}"),
            rows => format!("{rows} rows of {height}"),
        };
        let (name, measures, usable) = (
            part.name(),
            part.measures_text(units),
            self.usable.show_width(units),
        );
        format!("{count} × {name}, {measures}{turned}: {per_row} to a row at {usable}, {rows}")
    }
}

impl ClothFit {
    /// The sum in the order it was done: rows of parts, washed length, allowance, raw length, width; [`Self::rounding`] comes
    /// last.
    #[must_use]
    pub fn steps(&self, units: Units) -> Vec<String> {
        let mut steps = self
            .laid
            .as_ref()
            .map_or_else(Vec::new, |laid| laid.steps(units));
        let show = |length: crate::quantity::Micrometres| length.show_taken(units);
        if self
            .laid
            .as_ref()
            .is_some_and(|laid| self.washed < laid.length)
        {
            steps.push(format!(
                "of this length {} are asked of this piece",
                show(self.washed)
            ));
        }
        let (mut length, allowance) = (self.washed, self.rule.end_allowance);
        if self.basis != Basis::Raw {
            steps.push(format!("{} as it is cut", show(length)));
        }
        if !allowance.is_zero() {
            let with = length.plus(allowance).unwrap_or(length);
            let needed = if self.basis == Basis::Raw {
                " needed"
            } else {
                ""
            };
            steps.push(format!(
                "{}{needed} + {} end allowance = {}",
                show(length),
                allowance.show_width(units),
                show(with)
            ));
            length = with;
        }
        if let (Basis::Raw, Some(chosen)) = (self.basis, &self.shrinkage) {
            let needed = if allowance.is_zero() { " needed" } else { "" };
            let state = if self.done.is_some() {
                "as it is now"
            } else {
                "raw"
            };
            steps.push(format!(
                "{}{needed} ÷ {}/{} left lengthwise ({}) = {} {state}",
                show(length),
                chosen.length.after(),
                chosen.length.before(),
                chosen.length.factor_text(),
                show(
                    self.repeats
                        .as_ref()
                        .map_or(self.least, |repeats| repeats.of)
                )
            ));
        }
        steps.extend(self.repeats.as_ref().map(|repeats| repeats.step(units)));
        // Rows say what they were laid at.
        if let Some(width) = self.width.filter(|_| self.laid.is_none()) {
            let when = if self.basis == Basis::Raw {
                " after preparation"
            } else {
                ""
            };
            steps.push(format!(
                "usable width{when} {} ≥ {} asked",
                self.usable.show_width(units),
                width.show_width(units)
            ));
        }
        steps
    }
    /// The step that rounds up to the cutting step, where it changes anything: it gives way where the cloth is too short.
    #[must_use]
    pub fn rounding(&self, units: Units) -> Option<String> {
        (self.least != self.takes).then(|| {
            let step = self.rule.step.show_width(units);
            let (least, takes) = (self.least.show_taken(units), self.takes.show_taken(units));
            format!("{least} rounded up to the cutting step of {step} = {takes}")
        })
    }
}
