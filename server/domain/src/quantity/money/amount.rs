//! Amounts in whole minor units of a currency.

use super::{Currency, CurrencyError};
use crate::quantity::{
    Millionths, QuantityError, exact,
    parse::{Reader, number},
    print,
};
use serde::{Deserialize, Serialize};
use std::fmt;

const LIMIT: &str = "1 000 000 000 of the currency";
const MONEY: Reader = Reader {
    expected: "an amount of money",
    example: "12.50 or EUR 12.50",
    unit: " EUR",
    limit: LIMIT,
};

/// Digits after the point in a value of stock: millionths.
const VALUE_DIGITS: u32 = 6;

/// Why an amount was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MoneyError {
    /// The number.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
    /// The currency.
    #[error(transparent)]
    Currency(#[from] CurrencyError),
}

/// An amount in whole minor units of its currency (12.50 EUR = 1 250), within ± 10⁹ of the major unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Money {
    /// Whole minor units.
    pub minor: i64,
    /// Its currency.
    pub currency: Currency,
}

impl Money {
    /// Reads `12.50`, `EUR 12.50` or `12.50 EUR`; without a code the default currency is meant.
    ///
    /// Digits beyond the minor unit are refused, not rounded: `100.5 JPY` is a slip.
    ///
    /// # Errors
    /// [`QuantityError::TooManyDigits`], [`QuantityError::Negative`], [`QuantityError::MissingUnit`] without any
    /// currency, [`CurrencyError`] for its code.
    pub fn parse(text: &str, default: Option<Currency>) -> Result<Self, MoneyError> {
        let money = Self::parse_signed(text, default)?;
        if money.minor < 0 {
            return Err(QuantityError::Negative {
                text: text.to_owned(),
            }
            .into());
        }
        Ok(money)
    }

    /// [`Self::parse`] that also takes `-3.00 EUR`, for discounts and credits.
    ///
    /// # Errors
    /// As [`Self::parse`], but for the sign.
    pub fn parse_signed(text: &str, default: Option<Currency>) -> Result<Self, MoneyError> {
        let plain = number::plain(text);
        let (mut negative, unsigned) = sign(&plain);
        let (before, rest) = number::leading(unsigned, char::is_alphabetic);
        let (inner, rest) = sign(rest.trim_start());
        if negative && inner {
            return Err(MONEY.unreadable(text).into());
        }
        negative |= inner;
        let (number, after) = number::take(rest).map_err(|fault| MONEY.fault(fault, text))?;
        let currency = match (before, after.trim()) {
            ("", "") => default.ok_or_else(|| MONEY.missing_unit(text))?,
            (code, "") | ("", code) => code.parse::<Currency>()?,
            _ => return Err(MONEY.unreadable(text).into()),
        };
        let (mantissa, scale) = number.decimal.ok_or_else(|| MONEY.unreadable(text))?;
        let digits = currency.digits();
        if scale > digits {
            let unit = currency.code().to_owned();
            return Err(QuantityError::TooManyDigits {
                text: text.to_owned(),
                unit,
                digits,
            }
            .into());
        }
        let minor = 10_i128
            .checked_pow(digits.saturating_sub(scale))
            .and_then(|f| mantissa.checked_mul(f));
        let minor = minor.and_then(|minor| i64::try_from(minor).ok());
        let minor = minor.ok_or_else(|| MONEY.too_large(text))?;
        let money = Self {
            minor: if negative {
                minor.saturating_neg()
            } else {
                minor
            },
            currency,
        };
        if money.to_millionths().is_err() {
            return Err(MONEY.too_large(text).into());
        }
        Ok(money)
    }

    /// The same amount in millionths of the major unit; exact, since ISO 4217 has no currency of more digits.
    ///
    /// # Errors
    /// [`QuantityError::Overflow`] beyond ± 10⁹ of the major unit.
    pub fn to_millionths(self) -> Result<Millionths, QuantityError> {
        let factor = 10_i64.saturating_pow(VALUE_DIGITS.saturating_sub(self.currency.digits()));
        let value = exact::mul_div_nearest(self.minor, factor, 1);
        value
            .and_then(Millionths::new)
            .map_err(|_| QuantityError::Overflow { limit: LIMIT })
    }

    /// The number alone, with all digits of the currency: `125.61`.
    #[must_use]
    pub fn decimal(self) -> String {
        let digits = self.currency.digits();
        print::decimal(self.minor, digits, digits)
    }
}

fn sign(text: &str) -> (bool, &str) {
    text.strip_prefix('-')
        .map_or((false, text), |rest| (true, rest.trim_start()))
}

impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} {}", self.decimal(), self.currency))
    }
}
