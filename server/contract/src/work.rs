//! Minutes worked.

use crate::{Typed, access::conceals, act::act};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    quantity::Minutes,
    setting::{WorkKind, WorkReason},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Logs minutes of an operation on a garment.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct LogWork {
    /// Request id.
    pub id: Uuid,
    /// On which garment.
    pub garment: GarmentCode,
    /// Operation; a planned one of the same name lends its kind and billing.
    pub operation: String,
    /// Time: `2h30`, `150min`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub time: Typed<Minutes>,
    /// Kind of work; default the planned operation's.
    pub kind: Option<WorkKind>,
    /// Who worked; default whoever logs it. Others' hours need the grant `pay-rates`.
    pub person: Option<String>,
    /// Billable; default the planned operation's, else all kinds but admin.
    pub billable: Option<bool>,
    /// The detail that it belongs to; default the planned operation's.
    pub detail: Option<String>,
    /// Why.
    #[serde(default = "planned")]
    pub reason: WorkReason,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post LogWork => WorkLogged, "log_work", "/v1/work", "Logs minutes of an operation on a garment."; conceals);

fn planned() -> WorkReason {
    WorkReason::Planned
}

/// What was logged, and how the operation stands.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WorkLogged {
    /// The booking.
    pub booking: BookingCode,
    /// Garment.
    pub garment: GarmentCode,
    /// Operation.
    pub operation: String,
    /// Minutes logged now.
    pub minutes: i64,
    /// Minutes logged on the operation so far.
    pub worked_minutes: i64,
    /// Minutes planned for it.
    pub planned_minutes: Option<i64>,
    /// The detail that the minutes belong to.
    pub detail: Option<String>,
    /// Who worked.
    pub person: String,
    /// True when their hours are wages.
    pub paid: bool,
    /// What an hour of it costs, in the workshop's currency; null where it has no price, or where rates are not told.
    pub per_hour: Option<String>,
    /// Remarks: no pay rate yet …
    pub notes: Vec<String>,
}
conceals!(WorkLogged, pay_rates { per_hour });
