//! Currencies of ISO 4217.

use super::Money;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// Why a text is not a currency that an invoice can be in.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CurrencyError {
    /// Not a code of ISO 4217.
    #[error("\"{text}\" is not a currency of ISO 4217, use its three letters, for example EUR")]
    Unknown {
        /// What was typed.
        text: String,
    },
    /// A code without minor unit: metals, tests, units of account.
    #[error(
        "{code} has no minor unit in ISO 4217 and cannot be used on an invoice, use the currency that was paid"
    )]
    NoMinorUnit {
        /// The code.
        code: &'static str,
    },
    /// A code that has left the list.
    #[error("{code} is no longer a currency of ISO 4217, use {successor}")]
    Withdrawn {
        /// The code.
        code: &'static str,
        /// What replaced it.
        successor: &'static str,
    },
}

/// A current currency of ISO 4217 that has a minor unit.
///
/// Its digits are those of ISO 4217, not the display digits of other lists (ISK 0, KWD 3, RSD 2, UYW 4).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Currency(iso_currency::Currency);

impl Currency {
    /// So many minor units of it.
    #[must_use]
    pub const fn money(self, minor: i64) -> Money {
        Money {
            minor,
            currency: self,
        }
    }

    /// The three letters: `EUR`.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.0.code()
    }

    /// Digits of the minor unit: 2 for EUR, 0 for JPY, 3 for KWD.
    #[must_use]
    pub fn digits(self) -> u32 {
        self.0.exponent().map_or(0, u32::from)
    }

    /// Minor units in one major unit: 100 for EUR.
    #[must_use]
    pub fn minor_per_major(self) -> i64 {
        10_i64.saturating_pow(self.digits())
    }
}

impl FromStr for Currency {
    type Err = CurrencyError;

    fn from_str(text: &str) -> Result<Self, CurrencyError> {
        let unknown = || CurrencyError::Unknown {
            text: text.to_owned(),
        };
        let currency = iso_currency::Currency::from_code(&text.trim().to_ascii_uppercase())
            .ok_or_else(unknown)?;
        if currency.exponent().is_none() {
            return Err(CurrencyError::NoMinorUnit {
                code: currency.code(),
            });
        }
        // VES and VED are two listings of one bolívar and both on the list.
        if let Some(successor) = currency
            .is_superseded()
            .filter(|_| currency.code() != "VES")
        {
            return Err(CurrencyError::Withdrawn {
                code: currency.code(),
                successor: successor.code(),
            });
        }
        Ok(Self(currency))
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

impl TryFrom<String> for Currency {
    type Error = CurrencyError;
    fn try_from(text: String) -> Result<Self, CurrencyError> {
        text.parse()
    }
}

impl From<Currency> for String {
    fn from(currency: Currency) -> Self {
        currency.code().to_owned()
    }
}
