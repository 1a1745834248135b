//! Shares and changes in parts per million.

use super::{
    QuantityError, exact,
    parse::{Reader, number},
};
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

const LIMIT: &str = "100 000 %";
const PERCENT: Reader = Reader {
    expected: "a percentage",
    example: "4.5%",
    unit: "%",
    limit: LIMIT,
};

/// A share or a change in whole parts per million (5 % = 50 000), within ± 100 000 %.
///
/// Signed: as shrinkage, positive shrinks and negative grows. Typed with a percent sign; what is finer than a
/// millionth rounds up, towards more cloth.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(try_from = "i64", into = "i64")]
pub struct PartsPerMillion(i64);

impl PartsPerMillion {
    /// None of it.
    pub const ZERO: Self = Self(0);
    /// All of it: 100 %.
    pub const WHOLE: Self = Self(1_000_000);
    /// 15 %.
    pub const FIFTEEN_PERCENT: Self = Self(150_000);
    /// The largest, and with a minus the smallest, the book holds.
    pub const MAX: Self = Self(1_000_000_000);

    /// Takes a number of parts per million.
    ///
    /// # Errors
    /// [`QuantityError::TooLarge`] beyond ± [`Self::MAX`].
    pub fn new(ppm: i64) -> Result<Self, QuantityError> {
        if ppm.saturating_abs() > Self::MAX.0 {
            return Err(QuantityError::TooLarge {
                text: format!("{ppm} ppm"),
                limit: LIMIT,
            });
        }
        Ok(Self(ppm))
    }

    /// A small constant, in percent, for limits and tests.
    ///
    /// # Panics
    /// Outside 0 … 100 000 %; meant for literals.
    #[must_use]
    pub const fn from_percent(percent: i64) -> Self {
        assert!(
            percent >= 0 && percent <= 100_000,
            "a literal share is inside the limits"
        );
        Self(percent.wrapping_mul(10_000))
    }

    /// The number of parts per million.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// The same share with the other sign.
    #[must_use]
    pub const fn negated(self) -> Self {
        Self(self.0.wrapping_neg())
    }

    /// The exact percentage without its sign: `5`, `4.5715`, `-2.5`.
    #[must_use]
    pub fn decimal(self) -> String {
        super::print::decimal(self.0, 4, 0)
    }
}

/// A share of two amounts as it is shown, in hundredths of a percent.
///
/// - Rounding: once, from the amounts; halves away from zero. 304.13 of 899.66 is 33.80 %, though it is 33.8050 % to the
///   millionth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShownPercent(i64);

impl ShownPercent {
    /// `part` of `whole`; `None` of nothing, and beyond ± 100 000 %.
    #[must_use]
    pub fn of(part: i64, whole: i64) -> Option<Self> {
        let hundredths = exact::mul_div_nearest(part, 10_000, whole).ok()?;
        (hundredths.saturating_abs() <= PartsPerMillion::MAX.0.div_euclid(100))
            .then_some(Self(hundredths))
    }
}

impl fmt::Display for ShownPercent {
    /// Without its sign and without zeros at the end: `33.8`, `-7.25`, `35`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&super::print::decimal(self.0, 2, 0))
    }
}

impl FromStr for PartsPerMillion {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        let (negative, size) = match plain.strip_prefix('-') {
            Some(size) => (true, size),
            None => (false, plain.strip_prefix('+').unwrap_or(&plain)),
        };
        let (number, unit) = number::take(size).map_err(|fault| PERCENT.fault(fault, text))?;
        match unit.trim() {
            "%" => {}
            "" => return Err(PERCENT.missing_unit(text)),
            _ => return Err(PERCENT.unreadable(text)),
        }
        let ppm = number
            .value
            .times(if negative { -10_000 } else { 10_000 }, 1)
            .and_then(|f| f.ceil());
        let ppm = ppm.filter(|ppm| ppm.saturating_abs() <= Self::MAX.0);
        ppm.map(Self).ok_or_else(|| PERCENT.too_large(text))
    }
}

impl fmt::Display for PartsPerMillion {
    /// To two decimals, trailing zeros left out: `5 %`, `4.57 %`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let hundredths =
            i64::try_from(exact::div_nearest(i128::from(self.0), 100)).unwrap_or(self.0);
        f.pad(&format!("{} %", super::print::decimal(hundredths, 2, 0)))
    }
}

impl TryFrom<i64> for PartsPerMillion {
    type Error = QuantityError;
    fn try_from(ppm: i64) -> Result<Self, QuantityError> {
        Self::new(ppm)
    }
}

impl From<PartsPerMillion> for i64 {
    fn from(share: PartsPerMillion) -> Self {
        share.0
    }
}
