//! The working of a seam, to be checked with a pencil, and its notes.

use super::{
    plan::{Allowance, RoleSum},
    seam::{Method, SeamThread, Split},
    stitch::{Printed, Stitch},
};
use crate::quantity::{Micrometres, PartsPerMillion, Units, print};

/// Stitches/cm for which the ratios are printed.
const RATIO_PER_CM: &str = "7";

fn mm(length: Option<Micrometres>) -> String {
    print::decimal(length.unwrap_or_default().get(), 3, 0)
}

impl SeamThread {
    /// What it was worked out from, with the figures: `2 + 2·S·T, S = 4/cm, T = 0.8 mm`.
    #[must_use]
    pub fn basis(&self) -> String {
        let measures = &self.seam.measures;
        let given: Vec<String> = [
            measures
                .density
                .map(|density| format!("S = {}/cm", density.show_per_cm())),
            measures
                .thickness
                .map(|_| format!("T = {} mm", mm(measures.thickness))),
            measures
                .width
                .map(|_| format!("W = {} mm", mm(measures.width))),
        ]
        .into_iter()
        .flatten()
        .collect();
        match (self.method, self.seam.stitch) {
            (Method::Sample, _) => "thread unpicked from a sample".to_owned(),
            (Method::Given, _) => "your own figure for each".to_owned(),
            (Method::Ratio, _) => {
                format!("published ratio, for about {RATIO_PER_CM} stitches/cm and thin cloth")
            }
            (_, Stitch::Machine(stitch)) => {
                let formula = stitch.formula.map(super::Formula::show).unwrap_or_default();
                let own = if self.method == Method::Geometry {
                    "own geometry "
                } else {
                    "formula "
                };
                format!("{own}{formula}, {}", given.join(", "))
            }
            (_, Stitch::Hand(stitch)) => format!("own geometry {}", stitch.formula()),
            (_, Stitch::Item(item)) => format!("own geometry, {}", item.formula()),
            (_, Stitch::Unknown(_)) => String::new(),
        }
    }

    /// How needle and under thread share it, for people: `20:80, a rule of thumb`; nothing for one thread.
    #[must_use]
    pub fn shared(&self) -> Option<String> {
        let percent =
            |percent: i64, why: &str| format!("{percent}:{}{why}", 100_i64.saturating_sub(percent));
        match self.split {
            Split::OneThread => None,
            Split::Measured => Some("measured".to_owned()),
            Split::Given(share) => Some(format!("{} % needle, given", share.decimal())),
            Split::Table(needle, Printed::Found) => Some(percent(needle, "")),
            Split::Table(needle, Printed::FromMemory) => Some(percent(needle, ", a rule of thumb")),
            Split::Table(needle, Printed::OwnGeometry) => Some(percent(needle, ", own geometry")),
            Split::Unknown => Some("not known".to_owned()),
        }
    }

    /// The sum, to be checked with a pencil: `2 × 0.62 m × 2.64 = 3.28 m`.
    #[must_use]
    pub fn step(&self, units: Units) -> String {
        let show = |length: Micrometres| length.show_thread_taken(units);
        let count = self.seam.count;
        let sum = match (self.ratio, self.seam.measures.length) {
            (Some(ratio), Some(length)) => {
                let times = if count == 1 {
                    String::new()
                } else {
                    format!("{count} × ")
                };
                format!(
                    "{times}{} × {} = {}",
                    length.show(units),
                    ratio.show(),
                    show(self.total)
                )
            }
            _ => match self.seam.each {
                Some(each) => format!("{count} × {} = {}", show(each), show(self.total)),
                None => format!("{count} together {}", show(self.total)),
            },
        };
        match self.split {
            Split::OneThread | Split::Unknown => sum,
            _ => format!(
                "{sum}, needle {} + under {}",
                show(self.needle),
                show(self.under)
            ),
        }
    }

    /// Notes on this figure.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let mut remarks = Vec::new();
        let measures = &self.seam.measures;
        if let (Method::Formula | Method::Ratio | Method::Geometry, Stitch::Machine(stitch)) =
            (self.method, self.seam.stitch)
        {
            remarks.extend(stitch.remark.map(str::to_owned));
            if self.method == Method::Ratio {
                let measured = measures.density.is_some() || measures.thickness.is_some();
                remarks.extend(match stitch.formula {
                    Some(formula) if measured => {
                        let width = if formula.needs_width() {
                            ", thickness and width"
                        } else {
                            " and thickness"
                        };
                        Some(format!(
                            "{}: the formula needs per-cm (or step){width}; the ratio was used",
                            stitch.class
                        ))
                    }
                    None if measured => Some(format!(
                        "{}: no formula was found, so its measures are not in the figure",
                        stitch.class
                    )),
                    _ => None,
                });
            }
        }
        if let Split::Table(_, Printed::FromMemory) = self.split {
            remarks.push(format!(
                "{}: the share of needle and under thread is a rule of thumb; a sample or needle-share settles it",
                self.seam.stitch
            ));
        }
        let purled = match self.seam.stitch {
            Stitch::Hand(stitch) => stitch.may_be_thin(),
            Stitch::Item(item) => item == super::Item::HandButtonhole,
            Stitch::Machine(_) | Stitch::Unknown(_) => false,
        };
        if self.method == Method::Geometry && purled && measures.thickness.is_none() {
            remarks.push(format!(
                "{}: no thickness was given, so it counts as 0; a thick edge takes more",
                self.seam.stitch
            ));
        }
        if self.method == Method::Geometry
            && matches!(self.seam.stitch, Stitch::Item(super::Item::Button))
        {
            remarks.push("button: winding the shank is not included".to_owned());
        }
        remarks
    }
}

impl RoleSum {
    /// The sum with ends and waste, step by step.
    #[must_use]
    pub fn steps(&self, allowance: Allowance, units: Units) -> Vec<String> {
        let show = |length: Micrometres| length.show_thread_taken(units);
        let sewn = self.sum.plus(self.ends).unwrap_or(self.sum);
        let mut steps = vec![format!("{} in the seams", show(self.sum))];
        if !self.ends.is_zero() {
            let tail = mm(Some(allowance.ends));
            steps.push(format!(
                "{} ends of {tail} mm = {}, together {}",
                self.tails,
                show(self.ends),
                show(sewn)
            ));
        }
        if allowance.waste != PartsPerMillion::ZERO {
            steps.push(format!(
                "{} + {} for waste = {}",
                show(sewn),
                allowance.waste,
                show(self.total)
            ));
        }
        steps
    }
}
