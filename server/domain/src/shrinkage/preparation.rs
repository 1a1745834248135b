//! What is done to cloth before it is cut.

use super::ShrinkageError;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// What is done to cloth before it is cut. Written `none`, `washed`, `washed x3`, `steamed`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Preparation {
    /// Cut as it is: a decision (shrinkage 0), not "unknown".
    None,
    /// Washed and dried as the garment will be.
    Washed {
        /// How many times, from 1.
        times: u8,
    },
    /// Steamed or pressed damp.
    Steamed,
}

impl Preparation {
    /// True when both are of one kind, however many washes.
    #[must_use]
    pub const fn same_kind(self, other: Self) -> bool {
        matches!(
            (self, other),
            (Self::None, Self::None)
                | (Self::Washed { .. }, Self::Washed { .. })
                | (Self::Steamed, Self::Steamed)
        )
    }

    /// Cycles that count: the number of washes, one steaming, none.
    #[must_use]
    pub const fn cycles(self) -> u8 {
        match self {
            Self::None => 0,
            Self::Washed { times } => times,
            Self::Steamed => 1,
        }
    }
}

impl FromStr for Preparation {
    type Err = ShrinkageError;

    fn from_str(text: &str) -> Result<Self, ShrinkageError> {
        let error = || ShrinkageError::Preparation { text: text.to_owned() };
        let lower = text.trim().to_lowercase();
        match lower.as_str() {
            "none" => return Ok(Self::None),
            "steamed" => return Ok(Self::Steamed),
            _ => {}
        }
        let rest = lower.strip_prefix("washed").ok_or_else(error)?.trim();
        let digits = rest.strip_prefix(['x', '×']).map(str::trim);
        let times = match digits {
            None if rest.is_empty() => 1,
            Some(digits) if digits.bytes().all(|b| b.is_ascii_digit()) => {
                digits.parse().map_err(|_| error())?
            }
            _ => return Err(error()),
        };
        if times == 0 { Err(error()) } else { Ok(Self::Washed { times }) }
    }
}

impl fmt::Display for Preparation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::None => f.pad("none"),
            Self::Washed { times: 1 } => f.pad("washed"),
            Self::Washed { times } => f.pad(&format!("washed x{times}")),
            Self::Steamed => f.pad("steamed"),
        }
    }
}

impl TryFrom<String> for Preparation {
    type Error = ShrinkageError;
    fn try_from(text: String) -> Result<Self, ShrinkageError> {
        text.parse()
    }
}

impl From<Preparation> for String {
    fn from(preparation: Preparation) -> Self {
        preparation.to_string()
    }
}
