//! Cuts: material taken for good.

use crate::{Amount, Micro, Typed, act::act, lots::Piece, reservations::Reservation};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode, PieceCode, ReservationCode},
    quantity::Micrometres,
    setting::{CutReason, End},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Cuts cloth or takes trims for a need, from its promise or from free cloth.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Cut {
    /// Request id.
    pub id: Uuid,
    /// For which garment.
    pub garment: GarmentCode,
    /// Role of the need.
    pub need: String,
    /// From this promise; absent: the need's only active one, if `piece` does not say otherwise.
    pub reservation: Option<ReservationCode>,
    /// From this piece.
    pub piece: Option<PieceCode>,
    /// Length (or count) cut; default what the promise holds.
    pub amount: Option<String>,
    /// Width of a panel: the strip beside it is kept or waste.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub panel_width: Option<Typed<Micrometres>>,
    /// Why.
    #[serde(default = "planned")]
    pub reason: CutReason,
    /// From which end; default outer.
    #[serde(default)]
    pub end: End,
    /// Where it begins, from the outer end: what lies before becomes a piece of its own, unless it is too short to keep by
    /// the workshop's rule.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub at: Option<Typed<Micrometres>>,
    /// Keep the strip beside a panel; default by the workshop's rule.
    pub keep_strip: Option<bool>,
    /// Keep what is left of the piece, or not; default by the workshop's rule when it is an offcut. What lies before the cut
    /// is kept by that rule, and always with `true`.
    pub keep_rest: Option<bool>,
    /// What the piece really measured before the cut.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub piece_was: Option<Typed<Micrometres>>,
    /// Cut into the promises of these garments.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub break_promises: Vec<GarmentCode>,
    /// The last cut on this promise: what it still holds is released.
    #[serde(default)]
    pub last: bool,
    /// Units of the need this cut serves; default what the length covers on the promise.
    pub units: Option<i64>,
    /// A piece that is not what the need asks for is meant; with `piece_was`, a length more than 5 % above the former, or 20 %
    /// below it.
    #[serde(default)]
    pub really: bool,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post Cut => CutDone, "cut", "/v1/cuts", "Cuts cloth or takes trims for a need.");

fn planned() -> CutReason {
    CutReason::Planned
}

/// What a taking cost at one cost layer.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FromLayer {
    /// The lot whose layer it is; absent: the pool of its material (moving average).
    pub lot: Option<LotCode>,
    /// How much of it.
    pub quantity: Amount,
    /// What that cost.
    pub cost: Micro,
}

/// What a cut did.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CutDone {
    /// The booking.
    pub booking: BookingCode,
    /// For which garment.
    pub garment: GarmentCode,
    /// Role of the need.
    pub need: String,
    /// What was cut.
    pub taken: Amount,
    /// Cost that went to the garment (or to the loss).
    pub cost: Micro,
    /// `cost` in minor units, rounded half up.
    pub cost_printed: String,
    /// Reason.
    pub reason: CutReason,
    /// Thread and trims: the cost layers that the cost came from, in the order taken.
    pub from_layers: Vec<FromLayer>,
    /// The piece as it is now.
    pub piece: Piece,
    /// Pieces it made: a strip, an outer rest.
    pub made: Vec<Piece>,
    /// The promise it was drawn from, as it is now.
    pub reservation: Option<Reservation>,
    /// Promises that hold another length now.
    pub changed: Vec<Reservation>,
    /// Promises that no longer fit.
    pub broken: Vec<Reservation>,
    /// Remarks.
    pub notes: Vec<String>,
}
