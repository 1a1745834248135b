//! How much of something.

use crate::quantity::QuantityError;
use serde::{Deserialize, Serialize};

const LIMIT: &str = "what is counted exactly";

/// How much of something, in units that can be set against each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Extent {
    /// Micrometres.
    Length(i64),
    /// Pieces.
    Count(i64),
    /// Minutes.
    Minutes(i64),
}

impl Extent {
    /// Of a material: pieces where it is counted, else micrometres.
    #[must_use]
    pub const fn of_material(counted: bool, quantity: i64) -> Self {
        if counted {
            Self::Count(quantity)
        } else {
            Self::Length(quantity)
        }
    }

    /// The number without its unit.
    #[must_use]
    pub const fn number(self) -> i64 {
        match self {
            Self::Length(number) | Self::Count(number) | Self::Minutes(number) => number,
        }
    }

    /// So many of the same unit.
    #[must_use]
    pub const fn of_same(self, number: i64) -> Self {
        match self {
            Self::Length(_) => Self::Length(number),
            Self::Count(_) => Self::Count(number),
            Self::Minutes(_) => Self::Minutes(number),
        }
    }

    /// Both numbers, where the units are the same.
    #[must_use]
    pub const fn beside(self, other: Self) -> Option<(i64, i64)> {
        match (self, other) {
            (Self::Length(one), Self::Length(two))
            | (Self::Count(one), Self::Count(two))
            | (Self::Minutes(one), Self::Minutes(two)) => Some((one, two)),
            _ => None,
        }
    }

    /// Both together; `None` for two units.
    ///
    /// # Errors
    /// Overflow.
    pub const fn plus(self, other: Self) -> Result<Option<Self>, QuantityError> {
        let Some((one, two)) = self.beside(other) else {
            return Ok(None);
        };
        match one.checked_add(two) {
            Some(sum) => Ok(Some(self.of_same(sum))),
            None => Err(QuantityError::Overflow { limit: LIMIT }),
        }
    }
}
