//! What is done to cloth before it is cut.

use super::ShrinkageError;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// What is done to cloth before it is cut. Written `none`, `raw`, `washed`, `washed x3`, `steamed`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
#[cfg_attr(feature = "diesel", derive(diesel::deserialize::FromSqlRow))]
pub enum Preparation {
    /// Cut as it is, whatever was done to it: a decision (shrinkage 0), not "unknown".
    None,
    /// Cut as it is, and it must never have seen water.
    Raw,
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
                | (Self::Raw, Self::Raw)
                | (Self::Washed { .. }, Self::Washed { .. })
                | (Self::Steamed, Self::Steamed)
        )
    }

    /// Cycles that count: the number of washes, one steaming, none.
    #[must_use]
    pub const fn cycles(self) -> u8 {
        match self {
            Self::None | Self::Raw => 0,
            Self::Washed { times } => times,
            Self::Steamed => 1,
        }
    }

    /// True where nothing is done to the cloth, so that it does not shrink before it is cut.
    #[must_use]
    pub const fn is_nothing(self) -> bool {
        matches!(self, Self::None | Self::Raw)
    }

    /// How far cloth that has been through `done` (`None`: raw) has come towards this preparation.
    ///
    /// - Each wash is a step towards more washes; more than requested suit as well.
    /// - Steamed cloth can still be washed. What steaming took is not known then, so that the whole shrinkage of the washing counts.
    /// - Washed cloth is no longer what a need of steamed or raw cloth asks for.
    /// - Source: common practice.
    #[must_use]
    pub const fn progress(self, done: Option<Self>) -> Progress {
        match (self, done) {
            (Self::None, _)
            | (Self::Raw, None | Some(Self::None | Self::Raw))
            | (Self::Steamed, Some(Self::Steamed)) => Progress::Done,
            (Self::Washed { times }, Some(Self::Washed { times: done })) => {
                if done >= times {
                    Progress::Done
                } else {
                    Progress::ToDo { washes_done: done }
                }
            }
            (Self::Washed { .. } | Self::Steamed, None | Some(Self::None | Self::Raw))
            | (Self::Washed { .. }, Some(Self::Steamed)) => Progress::ToDo { washes_done: 0 },
            (Self::Raw | Self::Steamed, Some(_)) => Progress::Elsewhere,
        }
    }
}

#[cfg(feature = "diesel")]
crate::column::read!(Preparation);

/// How far a cloth has come towards a preparation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Progress {
    /// It can be cut.
    Done,
    /// The rest is still to be done.
    ToDo {
        /// Washes that it has had of those requested.
        washes_done: u8,
    },
    /// What was done to it leads elsewhere.
    Elsewhere,
}

impl FromStr for Preparation {
    type Err = ShrinkageError;

    fn from_str(text: &str) -> Result<Self, ShrinkageError> {
        let error = || ShrinkageError::Preparation {
            text: text.to_owned(),
        };
        let lower = text.trim().to_lowercase();
        match lower.as_str() {
            "none" => return Ok(Self::None),
            "raw" => return Ok(Self::Raw),
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
        if times == 0 {
            Err(error())
        } else {
            Ok(Self::Washed { times })
        }
    }
}

impl fmt::Display for Preparation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::None => f.pad("none"),
            Self::Raw => f.pad("raw"),
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
