//! Cuts: material taken for good.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{
    Amount, Micro, Typed, access::conceals, act::act, lots::Piece, reservations::Reservation,
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode, PieceCode, ReservationCode},
    quantity::Micrometres,
    setting::{CutReason, End},
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Cut cloth, or take thread and trims, for a need.
///
/// Without a length the whole promise is cut. Anything beyond the promise comes from free cloth only; to cut into another
/// garment's promise, name that garment. A panel takes its length off across the full width; the strip beside it is kept as a
/// piece or is waste, by the workshop's offcut rule unless you choose.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct Cut {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Role of the need.
    #[cfg_attr(feature = "clap", arg(default_value = "", hide_default_value = true))]
    pub need: String,
    /// Promise to cut from, such as R12 [default: the need's only active one, if no piece is given].
    #[cfg_attr(feature = "clap", arg(long, value_name = "PROMISE"))]
    pub reservation: Option<ReservationCode>,
    /// Piece to cut from, such as L1.1 [default: the promise's].
    #[cfg_attr(feature = "clap", arg(long = "from", value_name = "PIECE"))]
    pub piece: Option<PieceCode>,
    /// Length or count to cut: 2.60m, 7 [default: what the promise holds].
    #[cfg_attr(feature = "clap", arg(value_parser = typed::length_or_count))]
    pub amount: Option<String>,
    /// Width of a panel: 45cm [default: what the parts take, where the strip beside them is worth keeping; else all of it].
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long = "panel", value_name = "WIDTH"))]
    pub panel_width: Option<Typed<Micrometres>>,
    /// Reason: planned, own-mistake, faulty-cloth, customer-change, toile, swatch.
    #[serde(default = "planned")]
    #[cfg_attr(feature = "clap", arg(long, default_value_t = CutReason::Planned))]
    pub reason: CutReason,
    /// End of the piece to cut from: outer or inner.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long, default_value_t))]
    pub end: End,
    /// Where the cut begins, from the outer end; what lies before it becomes a piece of its own, or waste if it is too short
    /// to keep.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub at: Option<Typed<Micrometres>>,
    /// Keep the strip beside a panel, or not; default by the workshop's rule.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub keep_strip: Option<bool>,
    /// Keep what is left of the piece on either side of the cut, or not; default by the workshop's rule for offcuts.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub keep_rest: Option<bool>,
    /// Length that the piece really had before the cut.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "LENGTH"))]
    pub piece_was: Option<Typed<Micrometres>>,
    /// Cut into the promise of this garment; may be repeated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(feature = "clap", arg(long = "break", value_name = "GARMENT"))]
    pub break_promises: Vec<GarmentCode>,
    /// Last cut for this need: the rest of its promise counts as cut and is released; without a promise, the rest of the need.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub last: bool,
    /// Most lengths (or sets) of the need that this may fill [default: what it covers].
    #[cfg_attr(feature = "clap", arg(id = "count", long, value_name = "N", value_parser = clap::value_parser!(i64).range(1..)))]
    pub units: Option<i64>,
    /// Confirm a piece that does not meet the need, or a new length more than 5 % above or 20 % below the old one.
    #[serde(default)]
    #[cfg_attr(feature = "clap", arg(long))]
    pub really: bool,
    /// Day [default: today].
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post Cut => CutDone, "cut", "/v1/cuts", "Cuts cloth or takes trims for a need.", needs Daily; conceals);

/// Cuts promises of a garment as they are, all or none; each is a booking of its own.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CutPromises {
    /// Request id.
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Which, in the order in which they are cut.
    pub promises: Vec<ReservationCode>,
    /// Confirms pieces that do not meet their need.
    #[serde(default)]
    pub really: bool,
    /// Day; default today.
    pub date: Option<NaiveDate>,
    /// True: only says what would be cut, left and not kept, and what it would cost.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub check: bool,
}
act!(post CutPromises => CutsDone, "cut_promises", "/v1/garments/{garment}/cuts", "Cuts promises of a garment, all or none.", needs Daily; conceals; tries);

/// What cutting several promises did.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CutsDone {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// In the order cut, each with its piece as that cut left it.
    pub cuts: Vec<CutDone>,
    /// Cost of all that went to the garment, in minor units, rounded half up.
    /// Null where prices are hidden.
    pub cost_printed: Option<String>,
}
conceals!(CutsDone, prices { cost_printed }, parts { cuts });

fn planned() -> CutReason {
    CutReason::Planned
}

/// What material taken from one cost layer cost.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FromLayer {
    /// The lot whose layer it is; absent: the pool of its material (moving average).
    pub lot: Option<LotCode>,
    /// How much of it.
    pub quantity: Amount,
    /// What that cost; null where prices are hidden.
    pub cost: Option<Micro>,
}
conceals!(FromLayer, prices { cost });

/// What a cut did.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CutDone {
    /// The booking.
    pub booking: BookingCode,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Role of the need.
    pub need: String,
    /// What was cut.
    pub taken: Amount,
    /// Cost that went to the garment (or to the loss); null where prices are hidden.
    pub cost: Option<Micro>,
    /// `cost` in minor units, rounded half up; null where prices are hidden.
    pub cost_printed: Option<String>,
    /// True where no price of its lot is known yet: then its cost is not known either.
    pub unpriced: bool,
    /// True where the cost is an estimate: the length of its piece or the value of its lot is one.
    pub cost_estimated: bool,
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
conceals!(
    CutDone,
    prices { cost, cost_printed },
    parts {
        from_layers,
        piece,
        made,
        reservation,
        changed,
        broken
    }
);
