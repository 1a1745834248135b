//! Stock values, minutes and counts.

use super::{decimal, from_decimal};
use crate::quantity::{Count, Millionths, Minutes, QuantityError, exact};
use std::fmt;

/// Digits after the point in a value.
const DIGITS: u32 = 6;

impl Millionths {
    /// The exact value with 2 to 6 decimals: `85.943684`, `12.50`.
    #[must_use]
    pub fn decimal(self) -> String {
        decimal(self.get(), DIGITS, 2)
    }

    /// Reads [`Self::decimal`]; at most 6 decimals, a minus is allowed.
    ///
    /// # Errors
    /// [`QuantityError::Unreadable`], [`QuantityError::TooManyDigits`], [`QuantityError::TooLarge`],
    /// [`QuantityError::Overflow`].
    pub fn from_decimal(text: &str) -> Result<Self, QuantityError> {
        Self::new(from_decimal(text, DIGITS, "a stock value", "12.50")?)
    }

    /// The value to `digits` decimals (at most 6), halves away from zero: `85.94`.
    #[must_use]
    pub fn rounded(self, digits: u32) -> String {
        let digits = digits.min(DIGITS);
        decimal(self.minor(digits), digits, digits)
    }

    /// The value in minor units of a currency of `digits` digits (at most 6), halves away from zero: 85.943684 → 8594.
    #[must_use]
    pub fn minor(self, digits: u32) -> i64 {
        let step = 10_i128.saturating_pow(DIGITS.saturating_sub(digits));
        i64::try_from(exact::div_nearest(i128::from(self.get()), step)).unwrap_or(i64::MAX)
    }
}

impl fmt::Display for Minutes {
    /// `10 h 30 min`, `45 min`, `9 h`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (hours, minutes) = (self.get().div_euclid(60), self.get().rem_euclid(60));
        f.pad(&match (hours, minutes) {
            (0, minutes) => format!("{minutes} min"),
            (hours, 0) => format!("{hours} h"),
            (hours, minutes) => format!("{hours} h {minutes} min"),
        })
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.get().to_string())
    }
}
