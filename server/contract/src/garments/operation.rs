//! What is to be done on a garment.

use crate::Typed;
use ellwand_domain::{quantity::Minutes, setting::WorkKind};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;

/// An operation as planned, for the whole batch.
#[skip_serializing_none]
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
    pub person: Option<String>,
    /// Billable; default true.
    #[serde(default = "yes")]
    pub billable: bool,
    /// The detail that it belongs to: `hand-rolled hem`.
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
