//! What a cost is for.

use serde::{Deserialize, Serialize};
use std::fmt;

/// What a cost is for; own and paid hours are separate.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum PriceGroup {
    /// Cloth, interlining, thread, trims.
    #[serde(rename = "materials")]
    Materials,
    /// Hours of people who are paid.
    #[serde(rename = "paid labour")]
    PaidLabour,
    /// Own hours at the pay that is wanted.
    #[serde(rename = "own labour")]
    OwnLabour,
    /// Overhead on billable hours.
    #[serde(rename = "overhead")]
    Overhead,
}

impl fmt::Display for PriceGroup {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Materials => "materials",
            Self::PaidLabour => "paid labour",
            Self::OwnLabour => "own labour",
            Self::Overhead => "overhead",
        })
    }
}

impl PriceGroup {
    /// The same, regardless of who works.
    #[must_use]
    pub const fn kind(self) -> LineKind {
        match self {
            Self::Materials => LineKind::Material,
            Self::PaidLabour | Self::OwnLabour => LineKind::Labour,
            Self::Overhead => LineKind::Overhead,
        }
    }
}

/// What a cost is, regardless of who works.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case")]
pub enum LineKind {
    /// Cloth, interlining, thread or trim.
    Material,
    /// Billable minutes at their rate.
    Labour,
    /// Overhead on billable minutes.
    Overhead,
}
