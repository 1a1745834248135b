//! Stock value in whole millionths of the workshop currency's major unit.

use super::{QuantityError, exact};
use serde::{Deserialize, Serialize};

const LIMIT: &str = "1 000 000 000 of the currency";

/// Stock value or cost in millionths of the workshop currency (12.50 EUR = 12 500 000).
///
/// Signed, so that variances and credits are the same type; within ± 10⁹ of the major unit.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(try_from = "i64", into = "i64")]
pub struct Millionths(i64);

impl Millionths {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// 10⁹ of the major unit.
    pub const MAX: Self = Self(1_000_000_000_000_000);

    /// Takes a number of millionths.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond ± [`Self::MAX`].
    pub fn new(millionths: i64) -> Result<Self, QuantityError> {
        if millionths.saturating_abs() > Self::MAX.0 {
            return Err(QuantityError::Overflow { limit: LIMIT });
        }
        Ok(Self(millionths))
    }

    /// The number of millionths.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// True for exactly nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Sum.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond ± [`Self::MAX`].
    pub fn plus(self, other: Self) -> Result<Self, QuantityError> {
        Self::new(self.0.saturating_add(other.0))
    }

    /// Difference.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond ± [`Self::MAX`].
    pub fn minus(self, other: Self) -> Result<Self, QuantityError> {
        Self::new(self.0.saturating_sub(other.0))
    }

    /// The same amount with the other sign.
    #[must_use]
    pub const fn negated(self) -> Self {
        Self(self.0.wrapping_neg())
    }

    /// `self × part / whole`, to the nearest millionth, halves away from zero: the one rounding of a use.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] when `whole` is zero or the result leaves the range.
    pub fn share(self, part: i64, whole: i64) -> Result<Self, QuantityError> {
        Self::new(exact::mul_div_nearest(self.0, part, whole)?)
    }

    /// Sum of many.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond ± [`Self::MAX`].
    pub fn sum(values: impl IntoIterator<Item = Self>) -> Result<Self, QuantityError> {
        values.into_iter().try_fold(Self::ZERO, Self::plus)
    }
}

impl TryFrom<i64> for Millionths {
    type Error = QuantityError;
    fn try_from(millionths: i64) -> Result<Self, QuantityError> {
        Self::new(millionths)
    }
}

impl From<Millionths> for i64 {
    fn from(value: Millionths) -> Self {
        value.0
    }
}
