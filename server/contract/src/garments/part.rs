//! Parts of a need, by the measures of their shell parts.

use crate::Metres;
#[cfg(feature = "clap")]
use crate::typed;
use ellwand_domain::setting::{Grain, Measured, PartCut};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// A part of a need of cloth or interlining, per garment: a rectangle by the measures of its shell part.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct PartInput {
    /// Its name: `collar`; one of each in a need.
    #[cfg_attr(feature = "clap", arg(long, value_name = "collar"))]
    pub name: String,
    /// How many of it a garment has; default 1.
    #[serde(default = "one")]
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::count, default_value = "1"))]
    pub count: i64,
    /// Length of the shell part, along `grain`.
    #[cfg_attr(feature = "clap", arg(long, value_name = "46cm", value_parser = typed::length))]
    pub length: String,
    /// Width of the shell part, across `grain`.
    #[cfg_attr(feature = "clap", arg(long, value_name = "12cm", value_parser = typed::length))]
    pub width: String,
    /// Whether both include the seam allowance: `with` (as the shell part is cut), the default, or `without`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub measures: Option<Measured>,
    /// Seam allowance on each side.
    #[cfg_attr(feature = "clap", arg(long, value_parser = typed::length))]
    pub allowance: Option<String>,
    /// `inside` the seams, the default of interlining, or `with` the allowance, the default of cloth.
    #[cfg_attr(feature = "clap", arg(long))]
    pub cut: Option<PartCut>,
    /// Grain along its length; default the need's.
    #[cfg_attr(feature = "clap", arg(long))]
    pub grain: Option<Grain>,
}

const fn one() -> i64 {
    1
}

/// A part of a need as it is cut.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NeedPart {
    /// Its name.
    pub name: String,
    /// How many of it a garment has.
    pub count: i64,
    /// Along its grain, as it is cut.
    pub length_m: Metres,
    /// Across it, as it is cut.
    pub width_m: Metres,
    /// How it is cut beside its seams.
    pub cut: PartCut,
    /// Grain along its length.
    pub grain: Grain,
}
