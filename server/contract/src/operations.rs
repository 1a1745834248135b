//! Operations that the workshop does often, and how long a garment's operations are likely to take.

use crate::{Typed, act::act};
use ellwand_domain::{
    certainty::Certainty,
    code::GarmentCode,
    quantity::Minutes,
    setting::{EstimateBasis, WorkKind},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Asks for the usual operations.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ListOperations {}
act!(read ListOperations => UsualOperations, "list_operations", "/v1/operations", "Lists the usual operations by name.");

/// Adds a usual operation, or changes the one of the same name, whatever its capitals. Garments keep what they have.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetOperation {
    /// Request id.
    pub id: Uuid,
    /// `sewing`, `hem` …
    pub name: String,
    /// Typical time for one garment: `45min`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub minutes: Typed<Minutes>,
    /// Kind of work; default as it was, for a new one `hand`.
    pub kind: Option<WorkKind>,
    /// Billable; default as it was, for a new one all kinds but admin.
    pub billable: Option<bool>,
}
act!(post SetOperation => UsualOperation, "set_operation", "/v1/operations", "Adds or changes a usual operation.");

/// Takes a usual operation out. Garments keep what they have.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ForgetOperation {
    /// Request id.
    pub id: Uuid,
    /// Which, whatever its capitals.
    pub name: String,
}
act!(post ForgetOperation => UsualOperations, "forget_operation", "/v1/operations/forget", "Takes a usual operation out.");

/// An operation that the workshop does often.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct UsualOperation {
    /// Name.
    pub name: String,
    /// Kind of work.
    pub kind: WorkKind,
    /// Typical minutes for one garment.
    pub minutes: i64,
    /// Billable.
    pub billable: bool,
}

/// All usual operations.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct UsualOperations {
    /// By name.
    pub operations: Vec<UsualOperation>,
}

/// Asks how long each planned operation of a garment is likely to take.
///
/// What counts are the minutes logged as planned, of operations of the same name (whatever its capitals), on garments that
/// were finished or delivered; a batch counts once, by its minutes over the garments that were started. When three
/// garments or more have the same name as this one, only those count, else all. At most the 50 newest are looked at.
/// Without any the usual operation's typical minutes are told, else the plan's own.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetEstimates {
    /// Which.
    pub garment: GarmentCode,
}
act!(read GetEstimates => Estimates, "get_estimates", "/v1/garments/{garment}/estimates", "Says how long a garment's operations are likely to take, from past garments.");

/// How long a garment is likely to take.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Estimates {
    /// Garment.
    pub garment: GarmentCode,
    /// How many alike.
    pub count: i64,
    /// One entry an operation, in the order of the plan.
    pub operations: Vec<OperationEstimate>,
    /// Likely minutes of all operations on one garment.
    pub likely_minutes: i64,
    /// The same for all alike.
    pub batch_minutes: i64,
}

/// How long an operation is likely to take on one garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OperationEstimate {
    /// Operation.
    pub operation: String,
    /// The shortest, rounded down; null with fewer than three past garments.
    pub low_minutes: Option<i64>,
    /// The median to the nearest minute, or what is told for want of past garments.
    pub likely_minutes: i64,
    /// The longest, rounded up; null with fewer than three past garments.
    pub high_minutes: Option<i64>,
    /// Past garments or batches behind it.
    pub past: i64,
    /// Where it comes from.
    pub from: EstimateBasis,
    /// How well it is known.
    pub certainty: Certainty,
    /// Likely minutes for all alike, a minute at least; from the plan: what is planned.
    pub batch_minutes: i64,
    /// What is planned for all alike.
    pub planned_minutes: i64,
}
