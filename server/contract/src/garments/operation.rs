//! Work to be done on a garment.

use crate::Typed;
use ellwand_domain::{quantity::Minutes, setting::WorkKind};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// An operation as planned, for the whole batch.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args), group(skip))]
pub struct OperationInput {
    /// `sewing`, `hem` …
    #[cfg_attr(feature = "clap", arg(long, value_name = "sewing"))]
    pub name: String,
    /// Kind of work.
    #[cfg_attr(feature = "clap", arg(long, value_name = "hand"))]
    pub kind: WorkKind,
    /// Minutes: `2h30`, `150min`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "2h30"))]
    pub planned: Typed<Minutes>,
    /// Who: `owner` or a paid person; default owner.
    #[cfg_attr(feature = "clap", arg(long))]
    pub person: Option<String>,
    /// Billable; default true.
    #[serde(default = "yes")]
    #[cfg_attr(feature = "clap", arg(long, action = clap::ArgAction::Set, default_value_t = true))]
    pub billable: bool,
    /// Detail that it belongs to: `hand-rolled hem`.
    #[cfg_attr(feature = "clap", arg(long))]
    pub detail: Option<String>,
}

fn yes() -> bool {
    true
}

/// A planned operation.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Operation {
    /// Name.
    pub name: String,
    /// Kind of work.
    pub kind: WorkKind,
    /// Person who does it.
    pub person: String,
    /// Billable.
    pub billable: bool,
    /// Planned minutes.
    pub planned_minutes: i64,
    /// Minutes worked.
    pub worked_minutes: i64,
    /// Detail that it belongs to.
    pub detail: Option<String>,
}
