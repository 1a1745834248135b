//! Rates per hour, kept as ratios.

use super::CostError;
use crate::quantity::{Millionths, Minutes, QuantityError, exact};

const LIMIT: &str = "9 223 372 036 854 775 807 of the smallest unit";

/// An amount spread over minutes of work, never rounded to a figure per hour.
///
/// Source: OpenStax Principles of Accounting vol. 2, 4.4 (rate = estimated amount / estimated activity). Rounding the
/// rate first moves the result: 85 000 over 24 286 h is not 3.50.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HourlyCost {
    amount: Millionths,
    minutes: i64,
}

/// Overhead per billable hour, as a ratio.
pub type OverheadRate = HourlyCost;

impl HourlyCost {
    /// Nothing per hour.
    pub const NONE: Self = Self {
        amount: Millionths::ZERO,
        minutes: 60,
    };

    /// `amount` spread over `minutes`: a year's overhead over a year's billable minutes.
    ///
    /// # Errors
    /// [`CostError::ZeroBase`] without activity (no rate is invented), [`CostError::NegativeRate`].
    pub fn over(amount: Millionths, minutes: i64) -> Result<Self, CostError> {
        if minutes <= 0 {
            return Err(CostError::ZeroBase { minutes });
        }
        if amount.get() < 0 {
            return Err(CostError::NegativeRate);
        }
        Ok(Self { amount, minutes })
    }

    /// A rate typed per hour, in ten-thousandths of the currency.
    ///
    /// # Errors
    /// [`CostError::NegativeRate`], overflow.
    pub fn per_hour(ten_thousandths: i64) -> Result<Self, CostError> {
        Self::over(Millionths::new(ten_thousandths.saturating_mul(100))?, 60)
    }

    /// The amount that is spread.
    #[must_use]
    pub const fn amount(&self) -> Millionths {
        self.amount
    }

    /// The minutes it is spread over; more than zero.
    #[must_use]
    pub const fn minutes(&self) -> i64 {
        self.minutes
    }

    /// Cost of a signed number of minutes, to the nearest millionth.
    ///
    /// # Errors
    /// Overflow beyond [`Millionths::MAX`].
    pub fn of(&self, minutes: i64) -> Result<Millionths, QuantityError> {
        self.amount.share(minutes, self.minutes)
    }
}

/// Cost of `minutes` at a typed hourly rate, to the nearest millionth.
///
/// - Units: rate in ten-thousandths of the currency per hour (24.00 = 240 000).
///
/// # Errors
/// [`CostError::NegativeRate`], overflow.
pub fn labour_cost(
    minutes: Minutes,
    rate_ten_thousandths_per_hour: i64,
) -> Result<Millionths, CostError> {
    if rate_ten_thousandths_per_hour < 0 {
        return Err(CostError::NegativeRate);
    }
    Ok(signed_labour(minutes.get(), rate_ten_thousandths_per_hour)?)
}

/// `minutes × rate / 60`, signed, to the nearest millionth: a ten-thousandth per hour is 100/60 = 5/3 millionths a minute.
pub(super) fn signed_labour(minutes: i64, rate: i64) -> Result<Millionths, QuantityError> {
    let fifths = minutes
        .checked_mul(5)
        .ok_or(QuantityError::Overflow { limit: LIMIT })?;
    Millionths::new(exact::mul_div_nearest(fifths, rate, 3)?)
}
