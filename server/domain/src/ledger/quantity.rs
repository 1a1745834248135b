//! What a piece holds: micrometres of cloth or a number of trims.

use crate::quantity::{Count, Micrometres, QuantityError, exact};

const LIMIT: &str = "10 000 km or 10 000 000 000 000 trims";

/// Micrometres of cloth, lining, interlining, thread or tape, or a number of counted trims; never negative.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Quantity(i64);

impl Quantity {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// Takes a whole number of micrometres or trims.
    ///
    /// # Errors
    /// [`QuantityError`] below 0 or beyond the limits.
    pub fn new(number: i64) -> Result<Self, QuantityError> {
        if number < 0 {
            return Err(QuantityError::Underflow);
        }
        if number > Micrometres::MAX.get() {
            return Err(QuantityError::Overflow { limit: LIMIT });
        }
        Ok(Self(number))
    }

    /// The whole number.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// True for nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// Sum.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond the limits.
    pub fn plus(self, other: Self) -> Result<Self, QuantityError> {
        Self::new(self.0.saturating_add(other.0))
    }

    /// Difference.
    ///
    /// # Errors
    /// [`QuantityError::Underflow`] when `other` is more.
    pub fn minus(self, other: Self) -> Result<Self, QuantityError> {
        if other.0 > self.0 {
            Err(QuantityError::Underflow)
        } else {
            Ok(self.less(other))
        }
    }

    /// Difference, nothing when `other` is more.
    #[must_use]
    pub const fn less(self, other: Self) -> Self {
        if other.0 > self.0 {
            Self(0)
        } else {
            Self(self.0.saturating_sub(other.0))
        }
    }

    /// `self × numerator / denominator`, rounded down.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond the limits.
    pub fn scale_down(self, numerator: Self, denominator: Self) -> Result<Self, QuantityError> {
        Self::new(exact::mul_div_floor(self.0, numerator.0, denominator.0)?)
    }

    /// Sum of many.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond the limits.
    pub fn sum(quantities: impl IntoIterator<Item = Self>) -> Result<Self, QuantityError> {
        quantities.into_iter().try_fold(Self::ZERO, Self::plus)
    }
}

impl From<Micrometres> for Quantity {
    fn from(length: Micrometres) -> Self {
        Self(length.get())
    }
}

impl From<Count> for Quantity {
    fn from(count: Count) -> Self {
        Self(count.get())
    }
}
