//! Rows of bookings, booking_subjects, requests.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{booking_subjects, bookings, requests, traces};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use ellwand_domain::setting::{BookingKind, Facet, Subject};

/// One act in the ledger.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = bookings)]
#[diesel(treat_none_as_null = true)]
pub struct Booking {
    pub id: i64,
    pub kind: BookingKind,
    pub summary: String,
    pub on_date: NaiveDate,
    pub booked_at: NaiveDateTime,
    pub undoes: Option<i64>,
    pub detail: String,
    /// Who booked.
    pub person_id: i64,
    /// The request that booked it.
    pub request_id: String,
}

/// What a booking touched, for the history.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = booking_subjects, primary_key(subject, subject_id, booking_id))]
pub struct BookingSubject {
    pub booking_id: i64,
    pub subject: Subject,
    pub subject_id: i64,
}

/// What a booking wrote over (`was`: JSON of what was there), or what it rests on (none).
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = traces)]
pub struct Trace {
    pub booking_id: i64,
    pub facet: Facet,
    pub subject_id: i64,
    pub part: String,
    pub was: Option<String>,
}

/// A request that was answered.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = requests)]
#[diesel(treat_none_as_null = true)]
pub struct Request {
    pub id: String,
    pub act: String,
    pub caller: String,
    pub content: String,
    pub answer: String,
    pub answered_at: NaiveDateTime,
    pub erased_at: Option<NaiveDateTime>,
    pub refused: bool,
}

/// Which bookings are asked for; what is none lets all through.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct BookingFilter {
    /// Those that touched it.
    pub subject: Option<(Subject, i64)>,
    pub person: Option<i64>,
    pub kind: Option<BookingKind>,
    /// First business date.
    pub from: Option<NaiveDate>,
    /// Last business date.
    pub to: Option<NaiveDate>,
}
