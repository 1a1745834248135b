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

/// List all usual operations by name.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListOperations {}
act!(read ListOperations => UsualOperations, "list_operations", "/v1/operations", "Lists the usual operations by name.");

/// Add a usual operation, or change the one of that name.
///
/// Capitals make no difference. What is not given stays as it is. Garments keep theirs.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct SetOperation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Its name: sewing, hem.
    pub name: String,
    /// Typical time for one garment: 45m, 1h20.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "TIME"))]
    pub minutes: Typed<Minutes>,
    /// Kind of work: machine, hand, cutting, fitting, pressing, admin [default: as before, else hand].
    #[cfg_attr(feature = "clap", arg(long))]
    pub kind: Option<WorkKind>,
    /// Whether it carries labour and overhead; default as before, for a new one all kinds but admin.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub billable: Option<bool>,
}
act!(post SetOperation => UsualOperation, "set_operation", "/v1/operations", "Adds or changes a usual operation.");

/// Remove a usual operation; garments keep theirs.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ForgetOperation {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Its name; capitals make no difference.
    pub name: String,
}
act!(post ForgetOperation => UsualOperations, "forget_operation", "/v1/operations/forget", "Removes a usual operation.");

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

/// Show how long a garment is likely to take, from past garments.
///
/// Looks for each planned operation among finished and delivered garments, ignoring capitals: those of the same name if three
/// or more have it, else all; the 50 newest at most. Minutes for mistakes, faulty cloth and customers' changes are left out,
/// and a batch counts once, by its minutes per garment started. Where no garment has it, the usual operation's typical time
/// is used, else the plan's own.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetEstimates {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
}
act!(read GetEstimates => Estimates, "get_estimates", "/v1/garments/{garment}/estimates", "Returns how long a garment's operations are likely to take, from past garments.");

/// How long a garment is likely to take.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Estimates {
    /// Garment.
    pub garment: GarmentCode,
    /// How many.
    pub count: i64,
    /// One entry per operation, in the order of the plan.
    pub operations: Vec<OperationEstimate>,
    /// Likely minutes of all operations on one garment.
    pub likely_minutes: i64,
    /// The same for the whole batch.
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
    /// The median to the nearest minute, or another figure where past garments are missing.
    pub likely_minutes: i64,
    /// The longest, rounded up; null with fewer than three past garments.
    pub high_minutes: Option<i64>,
    /// Past garments or batches behind it.
    pub past: i64,
    /// Where it comes from.
    pub from: EstimateBasis,
    /// How well it is known.
    pub certainty: Certainty,
    /// Likely minutes for the whole batch, a minute at least; from the plan: what is planned.
    pub batch_minutes: i64,
    /// Minutes planned for the whole batch.
    pub planned_minutes: i64,
}
