//! Lengths and widths in whole micrometres.

use super::{QuantityError, exact};
use serde::{Deserialize, Serialize};

/// Parts per million in a whole.
pub const PARTS_PER_MILLION: i64 = 1_000_000;

const LIMIT: &str = "10 000 km";

/// A length or width in whole micrometres, from 0 to 10 000 km.
///
/// The yard (914 400 µm) and the eighth of an inch (3 175 µm) are exact in this unit.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(try_from = "i64", into = "i64")]
pub struct Micrometres(i64);

impl Micrometres {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// 10 000 km.
    pub const MAX: Self = Self(10_000_000_000_000);
    /// One metre.
    pub const METRE: Self = Self(1_000_000);
    /// One inch (1 in = 25.4 mm by definition).
    pub const INCH: Self = Self(25_400);

    /// Takes a number of micrometres.
    ///
    /// # Errors
    /// [`QuantityError::Negative`] below 0, [`QuantityError::TooLarge`] above [`Self::MAX`].
    pub fn new(um: i64) -> Result<Self, QuantityError> {
        if um < 0 {
            return Err(QuantityError::Negative {
                text: format!("{um} µm"),
            });
        }
        if um > Self::MAX.0 {
            return Err(QuantityError::TooLarge {
                text: format!("{um} µm"),
                limit: LIMIT,
            });
        }
        Ok(Self(um))
    }

    /// A small constant, in millimetres, for defaults and tests.
    ///
    /// # Panics
    /// Outside 0 … 10 000 km; meant for literals.
    #[must_use]
    pub const fn from_mm(mm: i64) -> Self {
        assert!(
            mm >= 0 && mm <= 10_000_000_000,
            "a literal length is inside the limits"
        );
        Self(mm.wrapping_mul(1_000))
    }

    /// The number of micrometres.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// True for no length at all.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Sum.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] above [`Self::MAX`].
    pub fn plus(self, other: Self) -> Result<Self, QuantityError> {
        let sum = self.0.saturating_add(other.0);
        if sum > Self::MAX.0 {
            Err(QuantityError::Overflow { limit: LIMIT })
        } else {
            Ok(Self(sum))
        }
    }

    /// Difference.
    ///
    /// # Errors
    /// [`QuantityError::Underflow`] when `other` is longer.
    pub fn minus(self, other: Self) -> Result<Self, QuantityError> {
        if other.0 > self.0 {
            Err(QuantityError::Underflow)
        } else {
            Ok(Self(self.0.saturating_sub(other.0)))
        }
    }

    /// Difference, zero when `other` is longer.
    #[must_use]
    pub const fn less(self, other: Self) -> Self {
        if other.0 > self.0 {
            Self(0)
        } else {
            Self(self.0.saturating_sub(other.0))
        }
    }

    /// `self × n`.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] above [`Self::MAX`].
    pub fn times(self, n: i64) -> Result<Self, QuantityError> {
        Self::new(exact::mul_div_floor(self.0, n, 1)?)
    }

    /// `self × numerator / denominator`, rounded up: for cloth that is needed.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] above [`Self::MAX`].
    pub fn scale_up(self, numerator: i64, denominator: i64) -> Result<Self, QuantityError> {
        Self::new(exact::mul_div_ceil(self.0, numerator, denominator)?)
    }

    /// `self × numerator / denominator`, rounded down: for cloth that is there.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] above [`Self::MAX`].
    pub fn scale_down(self, numerator: i64, denominator: i64) -> Result<Self, QuantityError> {
        Self::new(exact::mul_div_floor(self.0, numerator, denominator)?)
    }

    /// Rounds up to a whole number of `step`s (a zero step leaves it alone).
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] above [`Self::MAX`].
    pub fn round_up_to(self, step: Self) -> Result<Self, QuantityError> {
        if step.0 == 0 {
            return Ok(self);
        }
        Self::new(exact::mul_div_floor(
            exact::mul_div_ceil(self.0, 1, step.0)?,
            step.0,
            1,
        )?)
    }
}

impl TryFrom<i64> for Micrometres {
    type Error = QuantityError;
    fn try_from(um: i64) -> Result<Self, QuantityError> {
        Self::new(um)
    }
}

impl From<Micrometres> for i64 {
    fn from(length: Micrometres) -> Self {
        length.0
    }
}
