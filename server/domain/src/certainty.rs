//! How well a number is known.

use serde::{Deserialize, Serialize};
use std::fmt;

/// How well a technical number is known. Ordered: the better known comes first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum Certainty {
    /// Measured in the workshop.
    Measured,
    /// Said by the seller.
    Stated,
    /// Worked out from something else, or typical of its kind.
    Estimated,
    /// Not known.
    Unknown,
}

impl Certainty {
    /// The word as it is written everywhere.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Stated => "stated",
            Self::Estimated => "estimated",
            Self::Unknown => "unknown",
        }
    }
}

impl fmt::Display for Certainty {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}
