//! Garments, their needs and their life.

use crate::{Amount, Gsm, Meta, Metres, Micro, Typed, act::act, reservations::Reservation};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode, PieceCode},
    quantity::{Micrometres, Minutes},
    setting::{GarmentState, Grain, Kind, Spoilage, WorkKind},
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// Plans a garment, or a batch of alike ones. A file for `ellwand garment plan --file` is this in TOML.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PlanGarment {
    /// Request id; a file leaves it out.
    #[serde(default = "Uuid::now_v7")]
    pub id: Uuid,
    /// What it is.
    pub name: String,
    /// For whom: name (made if new) or code; absent: for stock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<String>,
    /// How many alike; default 1.
    #[serde(default = "one")]
    pub count: i64,
    /// Due day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
    /// Note.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
    /// What one garment needs.
    #[serde(rename = "need", default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<NeedInput>,
    /// What is to be done for the whole batch.
    #[serde(rename = "operation", default, skip_serializing_if = "Vec::is_empty")]
    pub operations: Vec<OperationInput>,
}
act!(post PlanGarment => Garment, "plan_garment", "/v1/garments", "Plans a garment or a batch.");

fn one() -> i64 {
    1
}

/// One thing a garment needs, per garment.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NeedInput {
    /// `shell`, `lining`, `buttons` …; one of each on a garment.
    pub role: String,
    /// Kind of material.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kind: Option<Kind>,
    /// Cloth and interlining: washed length. Thread and measured trims: length.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub length: Option<String>,
    /// Cloth and interlining: usable width after preparation that the length is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub width: Option<String>,
    /// Instead of one length: lengths by width.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub widths: Vec<WidthInput>,
    /// Counted trims: how many.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// What the cloth must have been through when it is cut: `washed`, `steamed`, `none`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub preparation: Option<Preparation>,
    /// Only this material: code or name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub material: Option<String>,
    /// Only this lot.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lot: Option<LotCode>,
    /// Only the lots that this garment was cut from (or is promised) in the same role.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub same_lot_as: Option<GarmentCode>,
    /// Only cloth that contains this fibre.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fibre: Option<String>,
    /// Only cloth of this mass per area or more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_min: Option<String>,
    /// Only cloth of this mass per area or less.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mass_max: Option<String>,
    /// Length of the longest part: a need may be split over pieces that each hold it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub longest_part: Option<String>,
    /// True: may be made from several lots.
    pub mixing: bool,
    /// True: a batch's lengths are joined into one.
    pub one_length: bool,
    /// Grain that runs along the long side of the part.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub grain: Option<Grain>,
    /// Rigidity wanted along the long side at least: `10uNm`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stiffness_min: Option<String>,
    /// Rigidity wanted along the long side at most.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stiffness_max: Option<String>,
    /// As stiff along the long side as a lot is on a grain: `L7 crosswise`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stiff_like: Option<String>,
    /// Interlining: only fusible (true), only sewn-in (false).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fusible: Option<bool>,
    /// Planned cost per garment, where no lot is promised yet: in the workshop's currency.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub estimate: Option<String>,
    /// The detail that it belongs to: `pad-stitched collar`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub detail: Option<String>,
}

/// A length for a width.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WidthInput {
    /// Usable width after preparation.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub width: Typed<Micrometres>,
    /// Washed length at that width.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub length: Typed<Micrometres>,
}

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

/// Plans the same garment again.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CopyGarment {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub garment: GarmentCode,
    /// New name; default the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// For whom; default for stock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<String>,
    /// How many alike; default the same. Planned minutes follow in proportion, rounded up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// Due day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
}
act!(post CopyGarment => Garment, "copy_garment", "/v1/garments/{garment}/copy", "Plans the same garment again.");

/// Changes the plan: adds or replaces needs and operations, or their heads. Promises are looked at again.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EditGarment {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub garment: GarmentCode,
    /// New name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// New due day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<NaiveDate>,
    /// Needs to add, or to put in the place of those of the same role.
    #[serde(rename = "need", default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<NeedInput>,
    /// Roles to take out.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub drop_needs: Vec<String>,
    /// Operations to add, or to put in the place of those of the same name.
    #[serde(rename = "operation", default, skip_serializing_if = "Vec::is_empty")]
    pub operations: Vec<OperationInput>,
    /// Names of operations to take out; minutes that were worked on them stay.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub drop_operations: Vec<String>,
    /// Version that the change was made for; refused when the record changed since.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub if_version: Option<BookingCode>,
}
act!(patch EditGarment => Garment, "edit_garment", "/v1/garments/{garment}", "Changes a garment's plan."; versioned);

/// Asks for one garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetGarment {
    /// Which.
    pub garment: GarmentCode,
}
act!(read GetGarment => Garment, "get_garment", "/v1/garments/{garment}", "Returns a garment with its needs and promises."; conceals; versioned);

/// Asks for garments, newest first.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ListGarments {
    /// Only in this state.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub state: Option<GarmentState>,
    /// Go on after this cursor.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<String>,
    /// Rows a page; at most 200.
    #[serde(default, skip_serializing_if = "Option::is_none")]
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
    /// What it is.
    pub name: String,
    /// For whom.
    pub customer: Option<String>,
    /// How many alike.
    pub count: i64,
    /// Due day.
    pub due: Option<NaiveDate>,
    /// Where it is in its life.
    pub state: GarmentState,
}

/// A garment.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Garment {
    /// Code.
    pub garment: GarmentCode,
    /// What it is.
    pub name: String,
    /// For whom.
    pub customer: Option<String>,
    /// How many alike were started.
    pub count: i64,
    /// Good ones, once finished.
    pub good: Option<i64>,
    /// Spoiled ones, once finished.
    pub spoiled: Option<i64>,
    /// Due day.
    pub due: Option<NaiveDate>,
    /// Where it is in its life.
    pub state: GarmentState,
    /// Note.
    pub note: Option<String>,
    /// Needs.
    pub needs: Vec<Need>,
    /// Planned operations.
    pub operations: Vec<Operation>,
    /// Minutes worked so far.
    pub worked_minutes: i64,
    /// Materials used so far, at cost; null where prices are not told.
    pub material_cost: Option<Micro>,
    /// Version: the last booking that touched it.
    pub version: BookingCode,
    /// The booking of the act that answered with this, when it was one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub booking: Option<BookingCode>,
    /// Cautions and remarks.
    pub notes: Vec<String>,
}

/// A need as the book holds it.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Need {
    /// Role.
    pub role: String,
    /// Kind of material.
    pub kind: Kind,
    /// How much one garment needs, for people: `2.60 m washed at 140 cm`.
    pub amount: String,
    /// Conditions, for people; empty: none.
    pub conditions: Vec<String>,
    /// Lengths (or trims, or one joined length) that the batch needs.
    pub units: i64,
    /// Of those, promised.
    pub units_reserved: i64,
    /// Of those, cut.
    pub units_cut: i64,
    /// Promises, ended ones included.
    pub reservations: Vec<Reservation>,
    /// Cloth of these lots was cut for it.
    pub lots: Vec<LotCode>,
    /// Mass per area asked for at least.
    pub mass_min_gsm: Option<Gsm>,
    /// Mass per area asked for at most.
    pub mass_max_gsm: Option<Gsm>,
    /// Washed length per garment at `width_m`, when one was given.
    pub length_m: Option<Metres>,
    /// Usable width after preparation.
    pub width_m: Option<Metres>,
    /// Counted trims per garment.
    pub count: Option<i64>,
    /// Preparation.
    pub preparation: Option<Preparation>,
    /// Grain along the part's long side.
    pub grain: Option<Grain>,
    /// The detail that it belongs to.
    pub detail: Option<String>,
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

/// Finishes a garment or batch; promises that are left are released.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FinishGarment {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub garment: GarmentCode,
    /// Good ones; default all that are not spoiled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub good: Option<i64>,
    /// Spoiled ones; default 0.
    #[serde(default)]
    pub spoiled: i64,
    /// Why; needed when some are spoiled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spoilage: Option<Spoilage>,
    /// What the spoiled ones still fetch, in the workshop's currency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub salvage: Option<String>,
    /// Business date; default today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<NaiveDate>,
}
act!(post FinishGarment => Garment, "finish_garment", "/v1/garments/{garment}/finish", "Finishes a garment or batch.");

/// Hands a finished garment over.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DeliverGarment {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub garment: GarmentCode,
    /// Business date; default today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<NaiveDate>,
}
act!(post DeliverGarment => Garment, "deliver_garment", "/v1/garments/{garment}/deliver", "Hands a finished garment over.");

/// Gives a garment up: promises are released, and what was cut goes where `cut_material` says.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CancelGarment {
    /// Request id.
    pub id: Uuid,
    /// Which.
    pub garment: GarmentCode,
    /// Needed when something was cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cut_material: Option<CutMaterial>,
    /// Business date; default today.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<NaiveDate>,
}
act!(post CancelGarment => Garment, "cancel_garment", "/v1/garments/{garment}/cancel", "Gives a garment up.");

/// What becomes of material that was cut for a cancelled garment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub enum CutMaterial {
    /// It is lost: its cost is a loss.
    Loss,
    /// It goes to another garment with its cost.
    Garment(GarmentCode),
    /// Lengths go back to the shelf as new pieces with their cost; the rest is lost.
    Shelf(Vec<ReturnedLength>),
}

/// A length of what was cut that goes back to the shelf.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ReturnedLength {
    /// The booking of the cut.
    pub booking: BookingCode,
    /// Length or count that goes back.
    pub amount: String,
    /// Width; default the piece's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub width: Option<Typed<Micrometres>>,
}

/// Asks which pieces can serve a garment's needs and why each other cannot.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetCandidates {
    /// Which.
    pub garment: GarmentCode,
    /// Only this role.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub need: Option<String>,
}
act!(read GetCandidates => Candidates, "get_candidates", "/v1/garments/{garment}/candidates", "Lists which pieces can serve each need, and why each other cannot."; conceals);

/// Candidates for every open need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Candidates {
    /// Garment.
    pub garment: GarmentCode,
    /// One entry a need.
    pub needs: Vec<NeedCandidates>,
}

/// Candidates for one need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct NeedCandidates {
    /// Role.
    pub role: String,
    /// How much one garment needs, for people.
    pub amount: String,
    /// Units still to be promised.
    pub units_open: i64,
    /// Pieces that serve, best first.
    pub serve: Vec<Candidate>,
    /// Pieces of the same kind that do not, each with its reason.
    pub cannot: Vec<CannotServe>,
    /// True when the shelf holds too many pieces of the kind to look at each: only those of the lots or the material that
    /// the need names were looked at, or those nearest to the length.
    #[serde(default)]
    pub nearest_only: bool,
    /// What `reserve --all` would take, when the open units can all be promised.
    pub picks: Vec<Pick>,
}

/// A piece and the units to take from it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Pick {
    /// Role of the need.
    pub need: String,
    /// From this piece.
    pub piece: PieceCode,
    /// Lengths (or trims) to promise; absent: all that are open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub units: Option<i64>,
    /// Part of a need: this washed length per unit; the need's longest part must fit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub washed_length: Option<Typed<Micrometres>>,
}

/// A piece that serves a need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Candidate {
    /// Piece.
    pub piece: PieceCode,
    /// Material's name.
    pub name: String,
    /// Where it lies.
    pub place: Option<String>,
    /// Units it can take.
    pub units: i64,
    /// Length (or count) one unit takes off it.
    pub takes: Amount,
    /// What is free now.
    pub free: Amount,
    /// What would be left free.
    pub left: Amount,
    /// What taking `units` would cost; null where prices are not told.
    pub cost: Option<Micro>,
    /// Shrinkage used, for people: `4.57 % lengthwise, measured, wash test 1`.
    pub shrinkage: Option<String>,
    /// The sum, step by step.
    pub steps: Vec<String>,
    /// Remarks: estimated figures, stiffness along the part, shrinkage that differs from the shell's.
    pub notes: Vec<String>,
}

/// A piece that does not serve a need.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CannotServe {
    /// Piece.
    pub piece: PieceCode,
    /// Material's name.
    pub name: String,
    /// Why, for people.
    pub reason: String,
}
