//! Lengths for people and for the wire.

use super::{Units, decimal};
use crate::quantity::{Micrometres, exact};

/// An eighth of a yard and of an inch, the fractions of the tape.
const EIGHTH_YARD: i64 = 114_300;
const EIGHTH_INCH: i64 = 3_175;

const METRE: i64 = 1_000_000;
const MILLIMETRE: i64 = 1_000;

/// From here on a length that was worked out, as of thread or by weight, is known to the centimetre at best.
const LONG: i64 = 10 * METRE;
const CENTIMETRE: i64 = 10_000;

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

/// Which way a length is rounded for people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Toward {
    /// Down, as what is there: no more is shown than can be cut.
    Left,
    /// Up, as what is needed or was taken: no less is shown than it takes.
    Taken,
}

impl Toward {
    /// `um × scale ÷ unit`.
    fn round(self, um: i64, scale: i128, unit: i64) -> i64 {
        let (scaled, unit) = (i128::from(um).saturating_mul(scale), i128::from(unit));
        let rounded = match self {
            Self::Left => exact::div_floor(scaled, unit),
            Self::Taken => exact::div_ceil(scaled, unit),
        };
        i64::try_from(rounded).unwrap_or(i64::MAX)
    }
}

/// In units of `unit` micrometres with so many decimals, of which `keep` stay; what would be shown as nothing has six.
fn decimals(um: i64, unit: i64, toward: Toward, scale: u32, keep: u32) -> String {
    let of = |scale: u32| toward.round(um, 10_i128.saturating_pow(scale), unit);
    match of(scale) {
        0 => decimal(of(MOST_DECIMALS), MOST_DECIMALS, keep),
        units => decimal(units, scale, keep),
    }
}

/// In units of `eighth × 8` as a fraction when it is one, else as decimals.
fn imperial(um: i64, eighth: i64, toward: Toward, scale: u32) -> String {
    if um.checked_rem(eighth) == Some(0) {
        return eighths(um.div_euclid(eighth));
    }
    decimals(um, eighth.saturating_mul(8), toward, scale, 2)
}

impl Micrometres {
    /// A length that is there, for people: metres down to the millimetre (`2.60 m`, `3.143 m`), or yards as a fraction when it is
    /// one in eighths (`2 3/4 yd`), else down to three decimals. So what is shown can be cut. What is shorter than that has up to six
    /// decimals, for it is not nothing.
    ///
    /// From 10 m on, a length that is not in whole millimetres, as nobody measures it, is shown to the centimetre like thread.
    /// Whoever adds up lengths that are shown may find a millimetre more or less for each, or then a centimetre.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        self.length(units, Toward::Left, 3)
    }

    /// The same of a length that is needed, promised or was taken: up to the millimetre. So what is shown is enough, and what is left
    /// of a length in whole millimetres is the rest of it.
    #[must_use]
    pub fn show_taken(self, units: Units) -> String {
        self.as_typed(units).length(units, Toward::Taken, 3)
    }

    /// Thread that is there: as [`Self::show`], down to the centimetre, or to a hundredth of a yard.
    #[must_use]
    pub fn show_thread(self, units: Units) -> String {
        self.length(units, Toward::Left, 2)
    }

    /// Thread that is needed or was taken: up to the centimetre, or to a hundredth of a yard.
    #[must_use]
    pub fn show_thread_taken(self, units: Units) -> String {
        self.as_typed(units).length(units, Toward::Taken, 2)
    }

    /// A decimal of a yard that was typed was rounded up to a whole micrometre, which is not shown again.
    fn as_typed(self, units: Units) -> Self {
        match units {
            Units::Imperial if self.get().checked_rem(EIGHTH_YARD) != Some(0) => {
                Self::new(self.get().saturating_sub(1).max(1)).unwrap_or(self)
            }
            _ => self,
        }
    }

    fn length(self, units: Units, toward: Toward, scale: u32) -> String {
        let is_worked_out = self.get().checked_rem(MILLIMETRE) != Some(0);
        let scale = match is_worked_out && self.get() >= LONG {
            true => scale.min(2),
            false => scale,
        };
        match units {
            Units::Metric => format!("{} m", decimals(self.get(), METRE, toward, scale, 2)),
            Units::Imperial => format!("{} yd", imperial(self.get(), EIGHTH_YARD, toward, scale)),
        }
    }

    /// A width for people: centimetres down to 0.1 mm (`147.85 cm`, `150 cm`), or inches as a fraction in eighths, else down to two
    /// decimals: repeats and allowances are small, and are multiplied.
    #[must_use]
    pub fn show_width(self, units: Units) -> String {
        self.width(units, Toward::Left)
    }

    fn width(self, units: Units, toward: Toward) -> String {
        match units {
            Units::Metric => format!("{} cm", decimals(self.get(), CENTIMETRE, toward, 2, 0)),
            Units::Imperial => format!("{} in", imperial(self.get(), EIGHTH_INCH, toward, 2)),
        }
    }

    /// Two lengths that are compared: what is there, and what is needed. They never look alike where it is too short.
    ///
    /// ```
    /// use ellwand_domain::quantity::{Micrometres, Units};
    /// let [has, needs] = [1_083_333, 1_083_334].map(|um| Micrometres::new(um).unwrap());
    /// assert_eq!(has.show_beside(needs, Units::Metric), ("1.083 m".into(), "1.084 m".into()));
    /// ```
    #[must_use]
    pub fn show_beside(self, needed: Self, units: Units) -> (String, String) {
        (self.show(units), needed.length(units, Toward::Taken, 3))
    }

    /// Two widths that are compared in the same way.
    #[must_use]
    pub fn show_width_beside(self, needed: Self, units: Units) -> (String, String) {
        (self.show_width(units), needed.width(units, Toward::Taken))
    }

    /// The exact number of metres for the wire, with 2 to 6 decimals: `2.60`, `3.143713`.
    #[must_use]
    pub fn decimal_m(self) -> String {
        decimal(self.get(), 6, 2)
    }
}
