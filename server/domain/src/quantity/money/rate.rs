//! Exchange rates and hourly rates.

use crate::quantity::{
    QuantityError,
    parse::{Reader, number},
    print,
};
use rust_decimal::Decimal;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

const RATE_DIGITS: u32 = 10;
const RATE_LIMIT: &str = "1 000 000 000";
const RATE: Reader = Reader {
    expected: "an exchange rate",
    example: "1.1700 (home units for one foreign unit)",
    unit: "",
    limit: RATE_LIMIT,
};

/// Digits of a pay rate.
const HOURLY_DIGITS: u32 = 4;
const HOURLY_LIMIT: &str = "1 000 000 000 per hour";
const HOURLY: Reader = Reader {
    expected: "an amount per hour",
    example: "24.00 or 24.00/h",
    unit: "/h",
    limit: HOURLY_LIMIT,
};

/// An exchange rate: home units for one foreign unit, above zero, up to 10 decimals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Rate(Decimal);

impl Rate {
    /// Takes a decimal.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`], [`QuantityError::TooManyDigits`] past 10 decimals,
    /// [`QuantityError::TooLarge`] past 10⁹.
    pub fn new(rate: Decimal) -> Result<Self, QuantityError> {
        let text = || rate.to_string();
        if rate.is_sign_negative() || rate.is_zero() {
            return Err(QuantityError::NotPositive { text: text() });
        }
        if rate.scale() > RATE_DIGITS {
            let unit = "an exchange rate".to_owned();
            return Err(QuantityError::TooManyDigits {
                text: text(),
                unit,
                digits: RATE_DIGITS,
            });
        }
        if rate > Decimal::from(1_000_000_000) {
            return Err(QuantityError::TooLarge {
                text: text(),
                limit: RATE_LIMIT,
            });
        }
        Ok(Self(rate))
    }

    /// The decimal, with the digits that were typed.
    #[must_use]
    pub const fn get(self) -> Decimal {
        self.0
    }
}

impl FromStr for Rate {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        if let Some(rest) = plain.strip_prefix('-') {
            // A negative number is one kind of fault, text another.
            number::take(rest).map_err(|fault| RATE.fault(fault, text))?;
            return Err(QuantityError::NotPositive {
                text: text.to_owned(),
            });
        }
        let (number, rest) = number::take(&plain).map_err(|fault| RATE.fault(fault, text))?;
        let (mantissa, scale) = number
            .decimal
            .filter(|_| rest.trim().is_empty())
            .ok_or_else(|| RATE.unreadable(text))?;
        if scale > RATE_DIGITS {
            let unit = "an exchange rate".to_owned();
            return Err(QuantityError::TooManyDigits {
                text: text.to_owned(),
                unit,
                digits: RATE_DIGITS,
            });
        }
        let rate =
            Decimal::try_from_i128_with_scale(mantissa, scale).map_err(|_| RATE.too_large(text))?;
        Self::new(rate)
    }
}

impl fmt::Display for Rate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0.to_string())
    }
}

impl TryFrom<String> for Rate {
    type Error = QuantityError;
    fn try_from(text: String) -> Result<Self, QuantityError> {
        text.parse()
    }
}

impl From<Rate> for String {
    fn from(rate: Rate) -> Self {
        rate.to_string()
    }
}

/// Pay or overhead per hour in ten-thousandths of the home currency's major unit (24.00 = 240 000), from 0.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(try_from = "i64", into = "i64")]
pub struct HourlyRate(i64);

impl HourlyRate {
    /// Nothing per hour.
    pub const ZERO: Self = Self(0);
    /// 10⁹ per hour.
    pub const MAX: Self = Self(10_000_000_000_000);

    /// Takes ten-thousandths per hour.
    ///
    /// # Errors
    /// [`QuantityError::Negative`] below 0, [`QuantityError::TooLarge`] above [`Self::MAX`].
    pub fn new(ten_thousandths: i64) -> Result<Self, QuantityError> {
        let rate = Self(ten_thousandths);
        if ten_thousandths < 0 {
            return Err(QuantityError::Negative {
                text: rate.to_string(),
            });
        }
        if ten_thousandths > Self::MAX.0 {
            return Err(QuantityError::TooLarge {
                text: rate.to_string(),
                limit: HOURLY_LIMIT,
            });
        }
        Ok(rate)
    }

    /// Ten-thousandths per hour.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// The amount per hour with 2 to 4 decimals: `24.00`, `35.8696`.
    #[must_use]
    pub fn decimal(self) -> String {
        print::decimal(self.0, HOURLY_DIGITS, 2)
    }
}

impl FromStr for HourlyRate {
    type Err = QuantityError;

    /// Reads `24`, `24.00` or `24.00/h`; more than 4 decimals are refused.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        let (number, unit) = number::take(&plain).map_err(|fault| HOURLY.fault(fault, text))?;
        let unit: String = unit.chars().filter(|c| *c != ' ').collect();
        let decimal = number
            .decimal
            .filter(|_| matches!(unit.as_str(), "" | "/h" | "/hour" | "perhour"));
        let (mantissa, scale) = decimal.ok_or_else(|| HOURLY.unreadable(text))?;
        if scale > HOURLY_DIGITS {
            let unit = "an amount per hour".to_owned();
            return Err(QuantityError::TooManyDigits {
                text: text.to_owned(),
                unit,
                digits: HOURLY_DIGITS,
            });
        }
        let factor = 10_i128.checked_pow(HOURLY_DIGITS.saturating_sub(scale));
        let value = factor
            .and_then(|f| mantissa.checked_mul(f))
            .and_then(|v| i64::try_from(v).ok());
        Self::new(
            value
                .filter(|v| *v <= Self::MAX.0)
                .ok_or_else(|| HOURLY.too_large(text))?,
        )
    }
}

impl fmt::Display for HourlyRate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}/h", self.decimal()))
    }
}

impl TryFrom<i64> for HourlyRate {
    type Error = QuantityError;
    fn try_from(ten_thousandths: i64) -> Result<Self, QuantityError> {
        Self::new(ten_thousandths)
    }
}

impl From<HourlyRate> for i64 {
    fn from(rate: HourlyRate) -> Self {
        rate.0
    }
}
