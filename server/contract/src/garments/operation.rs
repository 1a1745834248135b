//! What is to be done on a garment.

use crate::Typed;
use ellwand_domain::{quantity::Minutes, setting::WorkKind};
use serde::{Deserialize, Serialize};

/// An operation as planned, for the whole batch.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OperationInput {
    /// `sewing`, `hem` …
    pub name: String,
    /// Kind of work.
    pub kind: WorkKind,
    /// Minutes: `2h30`, `150min`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub planned: Typed<Minutes>,
    /// Who: `owner` or a paid person; default owner.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<String>,
    /// Billable; default true.
    #[serde(default = "yes")]
    pub billable: bool,
    /// The detail that it belongs to: `hand-rolled hem`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
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
    /// Who.
    pub person: String,
    /// Billable.
    pub billable: bool,
    /// Planned minutes.
    pub planned_minutes: i64,
    /// Minutes worked.
    pub worked_minutes: i64,
    /// The detail that it belongs to.
    pub detail: Option<String>,
}
