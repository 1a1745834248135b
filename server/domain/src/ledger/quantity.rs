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

    /// What it is beyond what was asked, where that is more than a quarter of it: rounding, ends and care with the shears stay below
    /// (common practice). Nothing where nothing was asked.
    ///
    /// ```
    /// use ellwand_domain::ledger::Quantity;
    /// let cm = |cm: i64| Quantity::new(cm * 10_000).unwrap();
    /// assert_eq!(cm(100).far_beyond(cm(80)), None);
    /// assert_eq!(cm(101).far_beyond(cm(80)), Some(cm(21)));
    /// ```
    #[must_use]
    pub fn far_beyond(self, asked: Self) -> Option<Self> {
        let beyond = self.less(asked);
        let much = beyond.0.saturating_mul(4) > asked.0;
        (much && !asked.is_zero()).then_some(beyond)
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
