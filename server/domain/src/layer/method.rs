//! How pooled material is valued.

use super::LayerError;
use crate::setting::PooledMethod;
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

/// Valuation of a pooled material, fixed at its first receipt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Method {
    /// First in, first out: one layer per receipt.
    Fifo,
    /// Average recomputed at each receipt: one pool.
    MovingAverage,
}

impl Method {
    /// The word used in requests, files and the database.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Fifo => "fifo",
            Self::MovingAverage => "moving_average",
        }
    }
}

impl fmt::Display for Method {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl FromStr for Method {
    type Err = LayerError;
    fn from_str(text: &str) -> Result<Self, LayerError> {
        match text
            .trim()
            .to_ascii_lowercase()
            .replace(['-', ' '], "_")
            .as_str()
        {
            "fifo" => Ok(Self::Fifo),
            "moving_average" | "average" => Ok(Self::MovingAverage),
            "lifo" => Err(LayerError::LifoRefused),
            _ => Err(LayerError::UnknownMethod {
                text: text.to_owned(),
            }),
        }
    }
}

impl From<PooledMethod> for Method {
    fn from(setting: PooledMethod) -> Self {
        match setting {
            PooledMethod::Fifo => Self::Fifo,
            PooledMethod::Average => Self::MovingAverage,
        }
    }
}

impl TryFrom<String> for Method {
    type Error = LayerError;
    fn try_from(text: String) -> Result<Self, LayerError> {
        text.parse()
    }
}

impl From<Method> for String {
    fn from(method: Method) -> Self {
        method.word().to_owned()
    }
}
