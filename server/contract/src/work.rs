//! Minutes worked.

#[cfg(feature = "clap")]
use crate::typed;
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

/// Log the time of an operation on a garment.
///
/// The hours are yours: the person signed in, or without a server the name in your settings. A planned operation of the
/// same name gives its kind and billing, but not its person.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct LogWork {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Operation, such as sewing or hem.
    pub operation: String,
    /// Time worked: 2h30, 150min.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub time: Typed<Minutes>,
    /// Kind of work: machine, hand, cutting, fitting, pressing, admin [default: as planned].
    #[cfg_attr(feature = "clap", arg(long))]
    pub kind: Option<WorkKind>,
    /// Someone else who worked, if you may set pay rates [default: yourself].
    #[cfg_attr(feature = "clap", arg(long))]
    pub person: Option<String>,
    /// Whether it carries labour and overhead [default: as planned, else all kinds but admin].
    #[cfg_attr(feature = "clap", arg(skip))]
    pub billable: Option<bool>,
    /// Detail that it belongs to, for work that was not planned [default: as planned].
    #[cfg_attr(feature = "clap", arg(long, value_name = "NAME"))]
    pub detail: Option<String>,
    /// Reason for unplanned work: own-mistake, faulty-cloth, customer-change.
    #[serde(default = "planned")]
    #[cfg_attr(feature = "clap", arg(long, default_value_t = WorkReason::Planned))]
    pub reason: WorkReason,
    /// Confirm more than 100 h at once.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post LogWork => WorkLogged, "log_work", "/v1/work", "Logs minutes of an operation on a garment.", needs Daily; conceals);

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
    /// What an hour of it costs, in the workshop's currency; null where it has no price, or where rates are hidden.
    pub per_hour: Option<String>,
    /// Remarks: no pay rate yet …
    pub notes: Vec<String>,
}
conceals!(WorkLogged, pay_rates { per_hour });
