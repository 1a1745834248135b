//! Lengths for people and for the wire.

use super::{Units, decimal};
use crate::quantity::{Micrometres, exact};

/// An eighth of a yard and of an inch, the fractions of the tape.
const EIGHTH_YARD: i64 = 114_300;
const EIGHTH_INCH: i64 = 3_175;

/// Decimals of a length that would be shown as nothing with fewer: a micrometre is 0.000001 m, 0.000001 yd.
const MOST_DECIMALS: u32 = 6;

/// `n` eighths as `2 3/4`, `1/8` or `3`.
fn eighths(n: i64) -> String {
    let (whole, rest) = (n.div_euclid(8), n.rem_euclid(8));
    let part = match rest {
        0 => return whole.to_string(),
        2 => "1/4",
        4 => "1/2",
        6 => "3/4",
        1 => "1/8",
        3 => "3/8",
        5 => "5/8",
        _ => "7/8",
    };
    if whole == 0 {
        part.to_owned()
    } else {
        format!("{whole} {part}")
    }
}

/// In units of `eighth × 8` as a fraction when it is one, else to the nearest of `scale` decimals.
fn imperial(um: i64, eighth: i64, scale: u32, unit: &str) -> String {
    if um.checked_rem(eighth) == Some(0) {
        return format!("{} {unit}", eighths(um.div_euclid(eighth)));
    }
    let units = |scale: u32| imperial_units(um, eighth, scale);
    // What is there is never shown as nothing.
    let scale = if units(scale) == 0 {
        MOST_DECIMALS
    } else {
        scale
    };
    format!("{} {unit}", decimal(units(scale), scale, 2))
}

/// To the nearest of `scale` decimals of a unit that has eight of `eighth`.
fn imperial_units(um: i64, eighth: i64, scale: u32) -> i64 {
    let scaled = i128::from(um).saturating_mul(10_i128.saturating_pow(scale));
    i64::try_from(exact::div_nearest(
        scaled,
        i128::from(eighth).saturating_mul(8),
    ))
    .unwrap_or(i64::MAX)
}

fn nearest(um: i64, step: i128) -> i64 {
    i64::try_from(exact::div_nearest(i128::from(um), step)).unwrap_or(um)
}

impl Micrometres {
    /// A length for people: metres to the nearest 0.1 mm with 2 to 4 decimals (`2.60 m`, `3.1437 m`), or yards as
    /// a fraction when it is one in eighths (`2 3/4 yd`), else to three decimals. What is shorter than that has up to six
    /// decimals, for it is not nothing.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Metric => match nearest(self.get(), 100) {
                0 => format!("{} m", decimal(self.get(), 6, 2)),
                tenths_mm => format!("{} m", decimal(tenths_mm, 4, 2)),
            },
            Units::Imperial => imperial(self.get(), EIGHTH_YARD, 3, "yd"),
        }
    }

    /// A width for people: centimetres to the nearest 0.1 mm (`147.86 cm`, `150 cm`), or inches as a fraction in
    /// eighths, else to two decimals.
    #[must_use]
    pub fn show_width(self, units: Units) -> String {
        match units {
            Units::Metric => match nearest(self.get(), 100) {
                0 => format!("{} cm", decimal(self.get(), 4, 0)),
                tenths_mm => format!("{} cm", decimal(tenths_mm, 2, 0)),
            },
            Units::Imperial => imperial(self.get(), EIGHTH_INCH, 2, "in"),
        }
    }

    /// Two lengths that are compared: as [`Self::show`], but where they differ and would look alike, with up to six decimals.
    ///
    /// ```
    /// use ellwand_domain::quantity::{Micrometres, Units};
    /// let [has, needs] = [1_083_333, 1_083_334].map(|um| Micrometres::new(um).unwrap());
    /// assert_eq!(has.show(Units::Metric), needs.show(Units::Metric));
    /// assert_eq!(has.show_beside(needs, Units::Metric), ("1.083333 m".into(), "1.083334 m".into()));
    /// ```
    #[must_use]
    pub fn show_beside(self, other: Self, units: Units) -> (String, String) {
        let close = self.looks_like(other, EIGHTH_YARD, 3, units);
        let show = |length: Self| match (close, units) {
            (false, _) => length.show(units),
            (true, Units::Metric) => format!("{} m", decimal(length.get(), 6, 2)),
            (true, Units::Imperial) => imperial(length.get(), EIGHTH_YARD, MOST_DECIMALS, "yd"),
        };
        (show(self), show(other))
    }

    /// Two widths that are compared: as [`Self::show_width`], but where they differ and would look alike, with more decimals.
    #[must_use]
    pub fn show_width_beside(self, other: Self, units: Units) -> (String, String) {
        let close = self.looks_like(other, EIGHTH_INCH, 2, units);
        let show = |width: Self| match (close, units) {
            (false, _) => width.show_width(units),
            (true, Units::Metric) => format!("{} cm", decimal(width.get(), 4, 0)),
            (true, Units::Imperial) => imperial(width.get(), EIGHTH_INCH, MOST_DECIMALS, "in"),
        };
        (show(self), show(other))
    }

    /// True for another length that is shown by the same digits.
    fn looks_like(self, other: Self, eighth: i64, scale: u32, units: Units) -> bool {
        let digits = |length: Self| match units {
            Units::Metric => nearest(length.get(), 100),
            Units::Imperial => imperial_units(length.get(), eighth, scale),
        };
        self != other && digits(self) == digits(other)
    }

    /// The exact number of metres for the wire, with 2 to 6 decimals: `2.60`, `3.143713`.
    #[must_use]
    pub fn decimal_m(self) -> String {
        decimal(self.get(), 6, 2)
    }
}
