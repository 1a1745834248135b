//! Fineness of thread and yarn, as an exact ratio.

mod read;
mod system;

pub use system::YarnCount;

use super::{QuantityError, fraction::Fraction, print};
use std::fmt;

const LIMIT: &str = "1 000 000 tex";

/// Fineness in grams on a kilometre, exact, from a thousandth of a tex up to 1 000 000 tex.
///
/// Kept reduced, so that equal counts are equal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tex(Fraction);

impl Tex {
    /// The thickest the book holds, in thousandths of a tex.
    const MOST: i64 = 1_000_000_000;
    /// Both sides of the ratio stay below this; no count that anyone spins comes near it.
    const SIDE: i128 = 1_000_000_000_000_000_000;

    /// Takes thousandths of a tex.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`] at 0 or below, [`QuantityError::TooLarge`] above 1 000 000 tex.
    pub fn of_thousandths(thousandths: i64) -> Result<Self, QuantityError> {
        let text = || format!("{} tex", print::decimal(thousandths, 3, 0));
        if thousandths <= 0 {
            return Err(QuantityError::NotPositive { text: text() });
        }
        let tex = Fraction::new(thousandths.into(), 1_000).filter(|_| thousandths <= Self::MOST);
        tex.map(Self).ok_or_else(|| QuantityError::TooLarge {
            text: text(),
            limit: LIMIT,
        })
    }

    /// Takes grams on a kilometre; nothing outside the limits. A ratio of more than 18 digits is kept to the nearest
    /// millionth of a tex.
    fn exact(tex: Fraction) -> Option<Self> {
        let within = |tex: &Fraction| {
            tex.times(1_000, 1)
                .and_then(Fraction::nearest)
                .is_some_and(|n| (1..=Self::MOST).contains(&n))
        };
        if tex.numerator() < Self::SIDE && tex.denominator() < Self::SIDE {
            return Some(tex).filter(within).map(Self);
        }
        let millionths = tex.times(1_000_000, 1).and_then(Fraction::nearest)?;
        Fraction::new(millionths.into(), 1_000_000)
            .filter(within)
            .map(Self)
    }

    /// True for what is nearer to nothing than to a thousandth of a tex.
    fn is_too_fine(tex: Fraction) -> bool {
        tex.times(1_000, 1).and_then(Fraction::nearest) == Some(0)
    }

    /// Thousandths of a tex, to the nearest: Nm 60 is 16 667.
    #[must_use]
    pub fn thousandths(self) -> i64 {
        self.0
            .times(1_000, 1)
            .and_then(Fraction::nearest)
            .unwrap_or(Self::MOST)
    }

    /// Grams over kilometres, without a common divisor: 20 den is 20 over 9.
    #[must_use]
    pub const fn parts(self) -> (i128, i128) {
        (self.0.numerator(), self.0.denominator())
    }

    /// The count in another system, in thousandths of its unit, to the nearest: 20 tex is Ne 29.527, 29 527.
    #[must_use]
    pub fn thousandths_of(self, system: YarnCount) -> i64 {
        self.scaled(system, 3)
    }

    /// The count in another system, to the nearest unit of its last decimal.
    fn scaled(self, system: YarnCount, decimals: u32) -> i64 {
        let (top, bottom, indirect) = system.factor();
        let count = match indirect {
            true => self.0.inverse().and_then(|f| f.times(top, bottom)),
            false => self.0.times(bottom, top),
        };
        let units = count.and_then(|f| f.times(10_i128.saturating_pow(decimals), 1));
        units.and_then(Fraction::nearest).unwrap_or(i64::MAX)
    }

    /// The number alone, as a decimal to the nearest: three decimals for direct systems, two for indirect ones, one for
    /// tickets. A ticket that is worked out is about what a label says, for labels round to numbers that are in use (common
    /// practice).
    #[must_use]
    pub fn number_in(self, system: YarnCount) -> String {
        let decimals = match (system.is_ticket(), system.is_indirect()) {
            (true, _) => 1,
            (false, true) => 2,
            (false, false) => 3,
        };
        print::decimal(self.scaled(system, decimals), decimals, 0)
    }

    /// The count in another system, for people: `20 tex`, `Ne 29.53`, `metric ticket about 150`.
    #[must_use]
    pub fn shown_in(self, system: YarnCount) -> String {
        let (label, number) = (system.label(), self.number_in(system));
        match (system.is_ticket(), system.is_indirect()) {
            (true, _) => format!("{label} about {number}"),
            (false, true) => format!("{label} {number}"),
            (false, false) => format!("{number} {label}"),
        }
    }

    /// The count in every system, in one line.
    #[must_use]
    pub fn in_every_system(self) -> String {
        YarnCount::ALL
            .map(|system| self.shown_in(system))
            .join(", ")
    }

    /// Metres in a kilogram, to the nearest tenth, as a decimal: 30 tex is 33 333.3.
    #[must_use]
    pub fn metres_per_kg(self) -> String {
        // tex = g/km, so a kilogram is 10⁶ / tex metres.
        self.tenths(1_000_000, 1)
    }

    /// Yards in a pound, to the nearest tenth, as a decimal: 550 tex is 901.9.
    #[must_use]
    pub fn yards_per_pound(self) -> String {
        // 453.59237 g and 0.9144 m: 453 592.37 / 0.9144 / tex.
        self.tenths(45_359_237_000, 91_440)
    }

    fn tenths(self, top: i128, bottom: i128) -> String {
        let tenths = self
            .0
            .inverse()
            .and_then(|f| f.times(top, bottom))
            .and_then(|f| f.times(10, 1));
        print::decimal(tenths.and_then(Fraction::nearest).unwrap_or(i64::MAX), 1, 1)
    }

    /// The number of tex for people and for the wire, to the nearest of 3 decimals: `30`, `23.622`.
    #[must_use]
    pub fn decimal_tex(self) -> String {
        print::decimal(self.thousandths(), 3, 0)
    }

    /// The exact number of tex for the wire: `30`, `20/9`.
    #[must_use]
    pub fn exact_tex(self) -> String {
        match self.parts() {
            (whole, 1) => whole.to_string(),
            (top, bottom) => format!("{top}/{bottom}"),
        }
    }

    /// Reads [`Self::decimal_tex`]; at most 3 decimals.
    ///
    /// # Errors
    /// [`QuantityError::Unreadable`], [`QuantityError::TooManyDigits`], [`QuantityError::NotPositive`],
    /// [`QuantityError::TooLarge`].
    pub fn from_decimal_tex(text: &str) -> Result<Self, QuantityError> {
        Self::of_thousandths(print::from_decimal(text, 3, "a count in tex", "30")?)
    }
}

impl fmt::Display for Tex {
    /// `30 tex`, `23.622 tex`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} tex", self.decimal_tex()))
    }
}
