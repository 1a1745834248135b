//! What was booked, by whom, and taking it back.

#[cfg(feature = "clap")]
use crate::typed;
use crate::{
    Amount, Meta, Micro, access::conceals, act::act, goods::Sale, reservations::Reservation,
};
use chrono::{DateTime, FixedOffset, NaiveDate, Utc};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode},
    setting::BookingKind,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use uuid::Uuid;

/// Lists bookings, newest first.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[cfg_attr(feature = "clap", derive(clap::Args))]
pub struct ListBookings {
    /// Show only bookings that touched this garment: G5.
    #[cfg_attr(feature = "clap", arg(long, value_name = "GARMENT"))]
    pub garment: Option<GarmentCode>,
    /// Show only bookings that touched this lot: L1.
    #[cfg_attr(feature = "clap", arg(long, value_name = "LOT"))]
    pub lot: Option<LotCode>,
    /// Show only what this person booked.
    #[cfg_attr(feature = "clap", arg(long, value_name = "PERSON"))]
    pub by: Option<String>,
    /// Show only this kind: bought, cut, worked, undone …
    #[cfg_attr(feature = "clap", arg(long))]
    pub kind: Option<BookingKind>,
    /// Show only what counts for this day or later.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub from: Option<NaiveDate>,
    /// Show only what counts for this day or earlier.
    #[cfg_attr(feature = "clap", arg(long, value_name = "DATE", value_parser = typed::date))]
    pub to: Option<NaiveDate>,
    /// Continue after this mark from the previous page.
    #[cfg_attr(feature = "clap", arg(long, value_name = "MARK"))]
    pub after: Option<String>,
    /// Rows to show [default: 50; at most 500].
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 500))]
    #[cfg_attr(feature = "clap", arg(long, value_name = "NUMBER"))]
    pub limit: Option<u32>,
}
act!(read ListBookings => Bookings, "list_bookings", "/v1/bookings", "Lists bookings, newest first."; conceals);

/// A page of bookings.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Bookings {
    /// Newest first.
    pub bookings: Vec<Booking>,
    /// Next page.
    pub meta: Meta,
}
conceals!(Bookings, parts { bookings });

/// Returns one booking.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetBooking {
    /// Booking code, such as B104.
    pub booking: BookingCode,
}
act!(read GetBooking => Booking, "get_booking", "/v1/bookings/{booking}", "Returns a booking with its movements."; conceals);

/// Returns the caller's own last booking that still stands, or that of a thing: what `undo` would undo.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetLastBooking {
    /// The last booking of this thing, by whomever: a purchase P5, lot L17, garment G4, promise R3 or quotation Q2.
    pub of: Option<String>,
}
act!(read GetLastBooking => Booking, "get_last_booking", "/v1/bookings/last", "Returns the caller's own last booking that still stands, or that of a thing."; conceals);

/// A booking.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Booking {
    /// Code.
    pub booking: BookingCode,
    /// What it did.
    pub kind: BookingKind,
    /// In one sentence.
    pub summary: String,
    /// Business date.
    pub on_date: NaiveDate,
    /// Server's clock, in the workshop's time zone.
    pub booked_at: DateTime<FixedOffset>,
    /// Person who booked it.
    pub by: String,
    /// The booking that took it back.
    pub undone_by: Option<BookingCode>,
    /// The booking that it takes back.
    pub undoes: Option<BookingCode>,
    /// Movements in the ledger.
    pub movements: Vec<Movement>,
    /// What the same request booked beside it, and still stands; only where one booking is asked for.
    #[serde(default)]
    pub together: Vec<BookingCode>,
    /// What goods were sold for; null where prices are hidden.
    pub sale: Option<Sale>,
}
conceals!(Booking, prices { sale }, parts { movements });

/// A movement in the ledger.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Movement {
    /// Place in the ledger: the only order.
    pub sequence: i64,
    /// From where: `supplier`, `L1.1`, `layer of L3` …
    pub from: String,
    /// To where: `G5`, `loss: own mistake` …
    pub to: String,
    /// Quantity that left.
    pub quantity: Amount,
    /// Value that went along; null where prices are hidden.
    pub value: Option<Micro>,
}
conceals!(Movement, prices { value });

/// Returns what was booked after a cursor, oldest first; may wait for news.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetChanges {
    /// Continue after this cursor: the `next` of an earlier answer, or `now` for what is booked from now on; absent: from the
    /// first booking on.
    pub after: Option<String>,
    /// Most bookings to return; default 100, at most 500.
    #[cfg_attr(feature = "openapi", schema(minimum = 1, maximum = 500))]
    pub limit: Option<u32>,
    /// Seconds to wait for news, at most 30; ignored with `now`.
    #[serde(skip_serializing_if = "is_zero")]
    #[cfg_attr(feature = "openapi", schema(maximum = 30))]
    pub wait_s: u32,
}
act!(read GetChanges => Changes, "get_changes", "/v1/changes", "Lists what was booked after a cursor, oldest first; may wait for news."; waits);

fn is_zero(number: &u32) -> bool {
    *number == 0
}

/// What was booked after a cursor.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Changes {
    /// Oldest first, without gaps: a booking gets its number only when those before it are there.
    pub changes: Vec<Change>,
    /// Cursor to continue from, whether there was news or not.
    pub next: String,
}

/// A booking, and what it touched.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Change {
    /// Code.
    pub booking: BookingCode,
    /// What it did.
    pub kind: BookingKind,
    /// In one sentence.
    pub summary: String,
    /// Business date.
    pub on_date: NaiveDate,
    /// Server's clock, in the workshop's time zone.
    pub booked_at: DateTime<FixedOffset>,
    /// Person who booked it.
    pub by: String,
    /// Garments that it touched.
    pub garments: Vec<GarmentCode>,
    /// Lots that it touched.
    pub lots: Vec<LotCode>,
}

/// Takes a booking back by booking the opposite, and all that its request booked with it where that is asked.
#[skip_serializing_none]
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Undo {
    /// Request id.
    pub id: Uuid,
    /// Booking code, such as B104.
    pub booking: BookingCode,
    /// Also take back all else that the same request booked: all of it or nothing.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub together: bool,
    /// Business date; default the last on which something was booked on what it touches, today where those books are closed.
    pub date: Option<NaiveDate>,
}
act!(post Undo => Undone, "undo", "/v1/bookings/{booking}/undo", "Takes a booking back by booking the opposite.", needs Daily; conceals);

/// What an undo did.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Undone {
    /// The opposite bookings, in the order in which they were made.
    pub bookings: Vec<Booking>,
    /// What the same request booked beside them, and still stands.
    pub left: Vec<BookingCode>,
    /// Promises made again in place of those that had ended.
    pub restored: Vec<Reservation>,
    /// Promises that hold another length now.
    pub changed: Vec<Reservation>,
    /// Promises that no longer fit.
    pub broken: Vec<Reservation>,
    /// Remarks.
    pub notes: Vec<String>,
}
conceals!(
    Undone,
    parts {
        bookings,
        restored,
        changed,
        broken
    }
);

/// Returns the content of an answered request of the caller's own, so that it can be repeated as it was.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GetRequest {
    /// Its id.
    pub request: Uuid,
}
act!(read GetRequest => KeptRequest, "get_request", "/v1/requests/{request}", "Returns the content of an answered request of the caller's own.");

/// A request that was answered.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct KeptRequest {
    /// Its id.
    pub request: Uuid,
    /// Name of the act: `reserve`.
    pub act: String,
    /// The request itself, in the form that the act takes.
    pub content: serde_json::Value,
    /// When it was answered.
    pub answered_at: DateTime<Utc>,
}
