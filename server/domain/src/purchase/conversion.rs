//! From the invoice's currency to the workshop's, once, on the total.

use super::LandError;
use crate::{
    allocation::{AllocationError, minor_unit},
    quantity::{Millionths, exact},
};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};

/// Digits after the point that an exchange rate may have.
pub const MAX_RATE_DECIMALS: u32 = 10;

/// How the invoice's total becomes an amount in the workshop's currency.
///
/// A foreign purchase is recorded at the rate of its day and never re-translated while it is stock (IAS 21 paras 21–23).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Conversion {
    /// The invoice is in the workshop's currency.
    Same {
        /// ISO 4217 digits of the currency.
        digits: u32,
    },
    /// At the day's rate, in home units per foreign unit.
    Rate {
        /// More than zero, at most [`MAX_RATE_DECIMALS`] decimals.
        rate: Decimal,
        /// ISO 4217 digits of the invoice currency.
        invoice_digits: u32,
        /// ISO 4217 digits of the workshop's currency.
        home_digits: u32,
    },
    /// The home amount as the card statement gives it.
    Home {
        /// Minor units of the workshop's currency.
        minor: i64,
        /// ISO 4217 digits of the workshop's currency.
        digits: u32,
    },
}

impl Conversion {
    /// ISO 4217 digits of the workshop's currency.
    #[must_use]
    pub const fn home_digits(&self) -> u32 {
        match self {
            Self::Same { digits } | Self::Home { digits, .. } => *digits,
            Self::Rate { home_digits, .. } => *home_digits,
        }
    }

    /// The whole invoice in home minor units, rounded half up once.
    ///
    /// # Errors
    /// [`LandError::RateNotPositive`], [`LandError::RateTooFine`], [`LandError::HomeContradicts`] when the typed amount
    /// is negative or only one of invoice and amount is zero, [`AllocationError::Overflow`].
    pub fn convert(&self, invoice_total: i64) -> Result<i64, LandError> {
        match *self {
            Self::Same { .. } => Ok(invoice_total),
            Self::Home { minor, .. } => {
                if minor < 0 || (minor == 0) != (invoice_total == 0) {
                    return Err(LandError::HomeContradicts {
                        home: minor,
                        invoice: invoice_total,
                    });
                }
                Ok(minor)
            }
            Self::Rate {
                rate,
                invoice_digits,
                home_digits,
            } => at_rate(invoice_total, rate, invoice_digits, home_digits),
        }
    }
}

fn power(digits: u32) -> Result<i128, AllocationError> {
    10_i128.checked_pow(digits).ok_or(AllocationError::Overflow)
}

/// `total × 10^-invoice_digits × rate × 10^home_digits`, to the nearest whole.
fn at_rate(
    total: i64,
    rate: Decimal,
    invoice_digits: u32,
    home_digits: u32,
) -> Result<i64, LandError> {
    let rate = rate.normalize();
    if rate <= Decimal::ZERO {
        return Err(LandError::RateNotPositive { rate });
    }
    if rate.scale() > MAX_RATE_DECIMALS {
        return Err(LandError::RateTooFine {
            rate,
            max: MAX_RATE_DECIMALS,
        });
    }
    let above = i128::from(total)
        .checked_mul(rate.mantissa())
        .and_then(|product| product.checked_mul(power(home_digits).ok()?))
        .ok_or(AllocationError::Overflow)?;
    let below = power(rate.scale())?
        .checked_mul(power(invoice_digits)?)
        .ok_or(AllocationError::Overflow)?;
    // The rounding doubles the dividend; a dividend this large is no invoice anyway.
    above.checked_mul(4).ok_or(AllocationError::Overflow)?;
    Ok(exact::narrow(exact::div_nearest(above, below))?)
}

/// An amount in minor units as millionths of the major unit; exact.
///
/// # Errors
/// [`AllocationError::TooManyDigits`] above 6 digits, overflow beyond [`Millionths::MAX`].
pub fn millionths_from_minor(minor: i64, digits: u32) -> Result<Millionths, LandError> {
    let wide = i128::from(minor)
        .checked_mul(minor_unit(digits)?)
        .ok_or(AllocationError::Overflow)?;
    Ok(Millionths::new(exact::narrow(wide)?)?)
}
