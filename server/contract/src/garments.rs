//! Garments, their needs and their life.

mod candidates;
mod change;
mod life;
mod need;
mod operation;
mod part;
#[cfg(feature = "clap")]
mod widths;

pub use crate::reservations::Pick;
#[cfg(feature = "clap")]
use crate::typed;
pub use candidates::{
    Candidate, Candidates, CannotServe, GetCandidates, NearLot, NeedCandidates, SetLot,
};
pub use change::{
    Change, Changeable, NeedChange, OperationChange, PartChange, PartName, PlanChanges, SeamChange,
};
pub use life::{CancelGarment, CutMaterial, DeliverGarment, FinishGarment, ReturnedLength};
pub use need::{Need, NeedInput, UsedLot, WidthInput};
pub use operation::{Operation, OperationInput};
pub use part::{NeedPart, PartInput};

use crate::{Meta, Micro, access::conceals, act::act, measures::Measure, seams::SeamInput};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    setting::GarmentState,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Plans a garment, or a batch of the same one. A file for `ellwand garment plan --file` is this in TOML.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PlanGarment {
    /// Request id; a file leaves it out.
    #[serde(default = "Uuid::now_v7")]
    pub id: Uuid,
    /// What it is: `work jacket`.
    pub name: String,
    /// Customer by name (added if new) or code; absent: for stock.
    pub customer: Option<String>,
    /// How many; default 1.
    #[serde(default = "one")]
    pub count: i64,
    /// Due date.
    pub due: Option<NaiveDate>,
    /// Note.
    pub note: Option<String>,
    /// What one garment needs.
    #[serde(rename = "need", default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<NeedInput>,
    /// Work to be done for the whole batch.
    #[serde(rename = "operation", default, skip_serializing_if = "Vec::is_empty")]
    pub operations: Vec<OperationInput>,
    /// What is sewn on one garment.
    #[serde(rename = "seam", default, skip_serializing_if = "Vec::is_empty")]
    pub seams: Vec<SeamInput>,
    /// Tail of each thread at each start and finish of a seam; default 25 mm.
    pub seam_ends: Option<String>,
    /// Share of thread that is wasted; default 15 %.
    pub seam_waste: Option<String>,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
    /// True: only says what would be planned, and what is missing on the shelf.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub check: bool,
}
act!(post PlanGarment => Garment, "plan_garment", "/v1/garments", "Plans a garment or a batch, or says what would be planned."; tries);

fn one() -> i64 {
    1
}

fn is_zero(count: &i64) -> bool {
    *count == 0
}

/// Plan the same garment again.
///
/// Copies needs with their parts, operations and seams; planned minutes follow the count in proportion, rounded up. What
/// differs is changed as by `garment edit`.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct CopyGarment {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// New name [default: the same].
    #[cfg_attr(feature = "clap", arg(long))]
    pub name: Option<String>,
    /// Customer by name (added if new) or code [default: none, for stock].
    #[cfg_attr(feature = "clap", arg(long = "for", value_name = "CUSTOMER"))]
    pub customer: Option<String>,
    /// How many [default: the same].
    #[cfg_attr(feature = "clap", arg(long, value_name = "N", value_parser = clap::value_parser!(i64).range(1..)))]
    pub count: Option<i64>,
    /// Due date.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub due: Option<NaiveDate>,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
    /// What differs from the garment that it is like.
    #[serde(flatten)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub changes: PlanChanges,
}
act!(post CopyGarment => Garment, "copy_garment", "/v1/garments/{garment}/copy", "Plans the same garment again.");

/// Change a garment's plan.
///
/// A need, part, operation or seam is named, and only what differs of it is given; what the plan does not have must be whole.
/// Promises are checked again: those that no longer fit are broken and listed.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct EditGarment {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// New name.
    #[cfg_attr(feature = "clap", arg(long))]
    pub name: Option<String>,
    /// New due date: 2026-11-02.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub due: Option<NaiveDate>,
    /// Customer whom it is for: code, or name (added if new); before anything of it is cut or quoted.
    #[cfg_attr(feature = "clap", arg(long = "for", value_name = "CUSTOMER"))]
    pub customer: Option<String>,
    /// What differs from the plan.
    #[serde(flatten)]
    #[cfg_attr(feature = "clap", command(flatten))]
    pub changes: PlanChanges,
    /// Change it only if it is still at this version: the "version" of the garment.
    #[cfg_attr(feature = "clap", arg(long, value_name = "BOOKING"))]
    pub if_version: Option<BookingCode>,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
impl EditGarment {
    /// True where nothing is to be changed.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        let head = self.name.is_none() && self.due.is_none() && self.customer.is_none();
        head && self.changes.is_nothing()
    }
}

act!(patch EditGarment => Garment, "edit_garment", "/v1/garments/{garment}", "Changes a garment's plan."; versioned);

/// Show a garment with its needs, promises and work.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct GetGarment {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
}
act!(read GetGarment => Garment, "get_garment", "/v1/garments/{garment}", "Returns a garment with its needs and promises."; conceals; versioned);

/// List garments, newest first.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListGarments {
    /// Show only this state: planned, cut-into, finished, delivered, cancelled.
    #[cfg_attr(feature = "clap", arg(long))]
    pub state: Option<GarmentState>,
    /// Show only those for a customer, by name or code: Ada, C3.
    #[cfg_attr(feature = "clap", arg(long = "for", value_name = "CUSTOMER"))]
    pub customer: Option<String>,
    /// Continue after this cursor from the previous page.
    #[cfg_attr(feature = "clap", arg(long, value_name = "CURSOR"))]
    pub after: Option<String>,
    /// Rows per page, at most 200.
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 200))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "N"))]
    pub limit: Option<u32>,
}
act!(read ListGarments => Garments, "list_garments", "/v1/garments", "Lists garments, newest first.");

/// A page of garments.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Garments {
    /// Newest first.
    pub garments: Vec<GarmentHead>,
    /// Next page.
    pub meta: Meta,
}

/// A garment in a list.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GarmentHead {
    /// Code.
    pub garment: GarmentCode,
    /// Name of the garment.
    pub name: String,
    /// Customer.
    pub customer: Option<String>,
    /// How many.
    pub count: i64,
    /// Due date.
    pub due: Option<NaiveDate>,
    /// State.
    pub state: GarmentState,
}

/// A garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Garment {
    /// Code.
    pub garment: GarmentCode,
    /// Name of the garment.
    pub name: String,
    /// Customer.
    pub customer: Option<String>,
    /// How many were started.
    pub count: i64,
    /// Good ones, once finished.
    pub good: Option<i64>,
    /// Spoiled ones, once finished.
    pub spoiled: Option<i64>,
    /// Due date.
    pub due: Option<NaiveDate>,
    /// State.
    pub state: GarmentState,
    /// Note.
    pub note: Option<String>,
    /// Needs.
    pub needs: Vec<Need>,
    /// Ended promises that are left out of the needs; `list_reservations` has them.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub more_ended: i64,
    /// Planned operations.
    pub operations: Vec<Operation>,
    /// Names of the seams that are planned.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub seams: Vec<String>,
    /// Minutes worked so far.
    pub worked_minutes: i64,
    /// Materials used so far, at cost; null where prices are hidden.
    pub material_cost: Option<Micro>,
    /// Version: the last booking that touched it.
    pub version: BookingCode,
    /// Booking of the act that this answers, where it made one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub booking: Option<BookingCode>,
    /// What the customer measured when it was planned; empty for those who only read.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measures: Vec<Measure>,
    /// Cautions and remarks.
    pub notes: Vec<String>,
}
conceals!(
    Garment,
    prices { material_cost },
    measures { measures },
    parts { needs }
);
