//! Shrinkage as sums use it.

use ellwand_domain::certainty::Certainty;
use serde::{Deserialize, Serialize};

/// Shrinkage as it was used, each direction on its own.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Shrinkage {
    /// Along the warp.
    pub lengthwise: KnownShrinkage,
    /// Along the weft.
    pub crosswise: KnownShrinkage,
}

/// Shrinkage along one direction.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KnownShrinkage {
    /// Share of the raw length, positive shrinks: `4.57 %`; null where no source knows it.
    pub share: Option<String>,
    /// How well it is known.
    pub certainty: Certainty,
    /// Where it is from, in words.
    pub source: String,
}
