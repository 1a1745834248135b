//! Promises of cloth to needs.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{Amount, Meta, Metres, Micro, Typed, access::conceals, act::act, shrinkage::Shrinkage};
use chrono::NaiveDate;
use ellwand_domain::{
    certainty::Certainty,
    code::{BookingCode, GarmentCode, LayCode, PieceCode, ReservationCode},
    quantity::Micrometres,
    setting::{Basis, LengthBy, ReservationState},
    shrinkage::Preparation,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Promises pieces to needs of a garment, all or nothing.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Reserve {
    /// Request id.
    pub id: Uuid,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// What to promise from where.
    pub picks: Vec<Pick>,
    /// Last day of the promise, in the workshop's time zone.
    pub until: Option<NaiveDate>,
    /// Business date; default today.
    pub date: Option<NaiveDate>,
}
act!(post Reserve => Reserved, "reserve", "/v1/reservations", "Promises pieces to needs of a garment, all or nothing.", needs Daily; conceals);

/// A piece and the units to take from it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Pick {
    /// Role of the need.
    pub need: String,
    /// Piece to take from, such as L1.1.
    pub piece: PieceCode,
    /// Lengths (or trims) to promise; absent: all open ones.
    pub units: Option<i64>,
    /// Share of a need: this washed length per unit; the need's longest part must fit.
    #[cfg_attr(feature = "openapi", schema(value_type = Option<String>))]
    pub washed_length: Option<Typed<Micrometres>>,
    /// Share of a set of counted trims: this many; the rest of the set comes from other pieces of the lot.
    pub trims: Option<i64>,
}

/// What was promised.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Reserved {
    /// The booking.
    pub booking: BookingCode,
    /// One per pick.
    pub reservations: Vec<Reservation>,
    /// Promises that no longer fit: they must be of the lot of this garment.
    pub broken: Vec<Reservation>,
    /// Remarks and cautions.
    pub notes: Vec<String>,
}
conceals!(
    Reserved,
    parts {
        reservations,
        broken
    }
);

/// Release promises.
///
/// Releases the ones you name, or all active ones of a garment.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct Release {
    /// Request id.
    #[cfg_attr(feature = "clap", arg(skip))]
    pub id: Uuid,
    /// Promise codes, such as R12.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(
        feature = "clap",
        arg(value_name = "PROMISE", required_unless_present = "garment")
    )]
    pub reservations: Vec<ReservationCode>,
    /// Release all active ones of this garment: G5.
    #[cfg_attr(feature = "clap", arg(long, conflicts_with = "reservations"))]
    pub garment: Option<GarmentCode>,
    /// Business date; default today.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub date: Option<NaiveDate>,
}
act!(post Release => Reserved, "release", "/v1/reservations/release", "Gives promises back.", needs Daily; conceals);

/// Asks for one promise.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetReservation {
    /// Promise code, such as R12.
    pub reservation: ReservationCode,
}
act!(read GetReservation => Reservation, "get_reservation", "/v1/reservations/{reservation}", "Returns a promise with its sum."; conceals);

/// List the promises of a garment, newest first, ended ones included.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListReservations {
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Show only this state: active, cut, released, expired, broken.
    #[cfg_attr(feature = "clap", arg(long))]
    pub state: Option<ReservationState>,
    /// Continue after this cursor from the previous page.
    #[cfg_attr(feature = "clap", arg(long, value_name = "CURSOR"))]
    pub after: Option<String>,
    /// Rows per page, at most 200.
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 200))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "N"))]
    pub limit: Option<u32>,
}
act!(read ListReservations => Reservations, "list_reservations", "/v1/garments/{garment}/reservations", "Lists the promises of a garment, newest first."; conceals);

/// A page of promises.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Reservations {
    /// Newest first.
    pub reservations: Vec<Reservation>,
    /// Next page.
    pub meta: Meta,
}
conceals!(Reservations, parts { reservations });

/// A promise.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Reservation {
    /// Code.
    pub reservation: ReservationCode,
    /// Garment code, such as G5.
    pub garment: GarmentCode,
    /// Role of the need.
    pub need: String,
    /// Piece that it comes from, such as L1.1.
    pub piece: PieceCode,
    /// State.
    pub state: ReservationState,
    /// Units of the need that it fills, along with what was cut and promised before it; after its end, those that it was for.
    pub units: i64,
    /// How much of one unit it is a share of, where it does not fill whole ones: washed length, or a number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub share: Option<Amount>,
    /// Washed length of a unit, as requested.
    pub washed_length_m: Option<Metres>,
    /// Usable washed width, as requested.
    pub washed_width_m: Option<Metres>,
    /// Preparation, as requested.
    pub preparation: Option<Preparation>,
    /// Whether it was computed on the raw or the prepared piece.
    pub basis: Option<Basis>,
    /// What the length of parts comes from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_by: Option<LengthBy>,
    /// The kept lay that it was made by.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lay: Option<LayCode>,
    /// Shrinkage used, for people, with certainty and source.
    pub shrinkage: Option<String>,
    /// The same, each direction with its certainty and source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub directions: Option<Shrinkage>,
    /// What it holds now.
    pub held: Amount,
    /// Share of the piece's value that it holds: the planned cost, of what is held still when it was cut from in part; null where
    /// prices are hidden.
    pub cost: Option<Micro>,
    /// How well the cost is known: measured by the book, estimated from what the lot would cost to buy again, or unknown.
    pub cost_certainty: Certainty,
    /// The working, step by step, to be checked with a pencil.
    pub steps: Vec<String>,
    /// Its last day.
    pub until: Option<NaiveDate>,
    /// Why it ended, when broken or expired.
    pub ended_because: Option<String>,
}
conceals!(Reservation, prices { cost });
