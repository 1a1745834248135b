//! Groups of the costs behind a price.

use serde::{Deserialize, Serialize};
use std::fmt;

/// What a cost behind a price is for.
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
