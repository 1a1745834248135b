//! Fineness of thread and yarn, kept in thousandths of a tex.

mod read;
mod system;

pub use system::YarnCount;

use super::{Micrometres, Milligrams, QuantityError, fraction::Fraction, print};
use serde::{Deserialize, Serialize};
use std::fmt;

const LIMIT: &str = "1 000 000 tex";

/// Fineness in whole thousandths of a tex (30 tex = 30 000), above zero, up to 1 000 000 tex.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "i64", into = "i64")]
pub struct MilliTex(i64);

impl MilliTex {
    /// The thickest the book holds.
    pub const MAX: Self = Self(1_000_000_000);

    /// Takes thousandths of a tex.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`] at 0 or below, [`QuantityError::TooLarge`] above [`Self::MAX`].
    pub fn new(milli_tex: i64) -> Result<Self, QuantityError> {
        let text = || format!("{} tex", print::decimal(milli_tex, 3, 0));
        if milli_tex <= 0 {
            return Err(QuantityError::NotPositive { text: text() });
        }
        if milli_tex > Self::MAX.0 {
            return Err(QuantityError::TooLarge { text: text(), limit: LIMIT });
        }
        Ok(Self(milli_tex))
    }

    /// Thousandths of a tex.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// The count in another system, in thousandths of its unit, to the nearest: 20 tex is Ne 29.527, 29 527.
    #[must_use]
    pub fn thousandths_of(self, system: YarnCount) -> i64 {
        self.scaled(system, 3)
    }

    /// The count in another system, to the nearest unit of its last decimal.
    fn scaled(self, system: YarnCount, decimals: u32) -> i64 {
        let (top, bottom, indirect) = system.factor();
        let own = Fraction::new(i128::from(self.0), 1);
        let count = match indirect {
            true => own.and_then(Fraction::inverse).and_then(|f| f.times(top, bottom)),
            false => own.and_then(|f| f.times(bottom, top)),
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
    pub fn told_in(self, system: YarnCount) -> String {
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
        YarnCount::ALL.map(|system| self.told_in(system)).join(", ")
    }

    /// Metres in a kilogram, to the nearest tenth, as a decimal: 30 tex is 33 333.3.
    #[must_use]
    pub fn metres_per_kg(self) -> String {
        // tex = g/km, so a kilogram is 10⁶ / tex metres, 10⁹ / milli-tex.
        self.tenths(1_000_000_000, 1)
    }

    /// Yards in a pound, to the nearest tenth, as a decimal: 550 tex is 901.9.
    #[must_use]
    pub fn yards_per_pound(self) -> String {
        // 453.59237 g and 0.9144 m: 453 592.37 / 0.9144 / tex.
        self.tenths(45_359_237_000_000, 91_440)
    }

    fn tenths(self, top: i128, bottom: i128) -> String {
        let own = Fraction::new(i128::from(self.0), 1).and_then(Fraction::inverse);
        let tenths = own.and_then(|f| f.times(top, bottom)).and_then(|f| f.times(10, 1));
        print::decimal(tenths.and_then(Fraction::nearest).unwrap_or(i64::MAX), 1, 1)
    }

    /// The fineness of a weighed sample, to the nearest thousandth: 900 m that weigh 7.5 g are 75 denier.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`] when nothing was weighed or measured, [`QuantityError::TooLarge`].
    pub fn of_sample(mass: Milligrams, length: Micrometres) -> Result<Self, QuantityError> {
        if length.is_zero() {
            return Err(QuantityError::NotPositive { text: "0 m".to_owned() });
        }
        // mg on µm: 1 mg/m is 1 tex, so milli-tex = mg × 10⁹ / µm.
        let value = Fraction::new(i128::from(mass.get()), i128::from(length.get()));
        let milli = value.and_then(|f| f.times(1_000_000_000, 1)).and_then(Fraction::nearest);
        Self::new(milli.unwrap_or(i64::MAX))
    }

    /// The exact number of tex for the wire, up to 3 decimals: `30`, `23.622`.
    #[must_use]
    pub fn decimal_tex(self) -> String {
        print::decimal(self.0, 3, 0)
    }

    /// Reads [`Self::decimal_tex`]; at most 3 decimals.
    ///
    /// # Errors
    /// [`QuantityError::Unreadable`], [`QuantityError::TooManyDigits`], [`QuantityError::NotPositive`],
    /// [`QuantityError::TooLarge`].
    pub fn from_decimal_tex(text: &str) -> Result<Self, QuantityError> {
        Self::new(print::from_decimal(text, 3, "a count in tex", "30")?)
    }
}

impl fmt::Display for MilliTex {
    /// `30 tex`, `23.622 tex`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} tex", self.decimal_tex()))
    }
}

impl TryFrom<i64> for MilliTex {
    type Error = QuantityError;
    fn try_from(milli_tex: i64) -> Result<Self, QuantityError> {
        Self::new(milli_tex)
    }
}

impl From<MilliTex> for i64 {
    fn from(fineness: MilliTex) -> Self {
        fineness.0
    }
}
