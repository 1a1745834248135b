//! Bookings, movements and requests.

use super::Conn;
use crate::error::StorageError;
use crate::kept::Change;
use crate::movement::{MovementRow, NewMovement, StoredMovement};
use crate::records::{Booking, BookingFilter, BookingSubject, Request, Trace};
use crate::schema::{
    booking_subjects, bookings, customer_measures, cuts, lays, movements, payments, planned_costs,
    pool_takings, purchase_charges, purchases, quotation_versions, requests, sales, traces,
    wash_tests, work_entries,
};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::ledger::{Account, AccountKind, Movement};
use ellwand_domain::setting::Subject;
use ellwand_domain::setting::{BookingKind, Facet};
use std::collections::HashMap;

pub fn request(conn: &mut Conn, id: &str) -> Result<Option<Request>, StorageError> {
    Ok(requests::table
        .find(id)
        .select(Request::as_select())
        .first(conn)
        .optional()?)
}

pub fn insert_request(conn: &mut Conn, request: &Request) -> Result<(), StorageError> {
    diesel::insert_into(requests::table)
        .values(request)
        .execute(conn)?;
    Ok(())
}

pub fn insert_booking(
    conn: &mut Conn,
    booking: &Booking,
    subjects: &[BookingSubject],
    lines: &[Movement],
) -> Result<(), StorageError> {
    diesel::insert_into(bookings::table)
        .values(booking)
        .execute(conn)?;
    // Row by row: a statement for several of them is prepared anew each time.
    for subject in subjects {
        diesel::insert_into(booking_subjects::table)
            .values(subject)
            .execute(conn)?;
    }
    for line in lines {
        diesel::insert_into(movements::table)
            .values(NewMovement::new(booking.id, line))
            .execute(conn)?;
    }
    super::months::add(conn, booking.on_date, lines)
}

pub fn booking(conn: &mut Conn, id: i64) -> Result<Option<Booking>, StorageError> {
    Ok(bookings::table
        .find(id)
        .select(Booking::as_select())
        .first(conn)
        .optional()?)
}

/// The booking that took this one back.
pub fn undone_by(conn: &mut Conn, id: i64) -> Result<Option<i64>, StorageError> {
    Ok(bookings::table
        .filter(bookings::undoes.eq(id))
        .select(bookings::id)
        .first(conn)
        .optional()?)
}

/// A person's last booking that was not taken back and takes none back.
pub fn last_booking_of(conn: &mut Conn, person: i64) -> Result<Option<Booking>, StorageError> {
    Ok(bookings::table
        .filter(bookings::person_id.eq(person))
        .filter(bookings::undoes.is_null())
        .filter(bookings::kind.ne(BookingKind::Expired))
        .filter(stands!())
        .order(bookings::id.desc())
        .select(Booking::as_select())
        .first(conn)
        .optional()?)
}

/// Bookings before `before`, newest first, of a subject when one is given.
pub fn bookings(
    conn: &mut Conn,
    subject: Option<(Subject, i64)>,
    before: i64,
    limit: i64,
) -> Result<Vec<Booking>, StorageError> {
    if let Some((subject, id)) = subject {
        return Ok(bookings::table
            .inner_join(booking_subjects::table)
            .filter(booking_subjects::subject.eq(subject))
            .filter(booking_subjects::subject_id.eq(id))
            .filter(bookings::id.lt(before))
            .order(bookings::id.desc())
            .limit(limit)
            .select(Booking::as_select())
            .load(conn)?);
    }
    Ok(bookings::table
        .filter(bookings::id.lt(before))
        .order(bookings::id.desc())
        .limit(limit)
        .select(Booking::as_select())
        .load(conn)?)
}

/// Bookings before `before` that a filter lets through, newest first.
pub fn bookings_of(
    conn: &mut Conn,
    filter: &BookingFilter,
    before: i64,
    limit: i64,
) -> Result<Vec<Booking>, StorageError> {
    let mut query = bookings::table
        .filter(bookings::id.lt(before))
        .order(bookings::id.desc())
        .limit(limit)
        .select(Booking::as_select())
        .into_boxed();
    if let Some((subject, id)) = filter.subject {
        let touched = booking_subjects::table
            .filter(booking_subjects::subject.eq(subject))
            .filter(booking_subjects::subject_id.eq(id))
            .select(booking_subjects::booking_id);
        query = query.filter(bookings::id.eq_any(touched));
    }
    if let Some(person) = filter.person {
        query = query.filter(bookings::person_id.eq(person));
    }
    if let Some(kind) = filter.kind {
        query = query.filter(bookings::kind.eq(kind));
    }
    if let Some(from) = filter.from {
        query = query.filter(bookings::on_date.ge(from));
    }
    if let Some(to) = filter.to {
        query = query.filter(bookings::on_date.le(to));
    }
    Ok(query.load(conn)?)
}

/// The last booking that touched a subject, was not taken back and takes none back.
pub fn last_booking_on(
    conn: &mut Conn,
    subject: Subject,
    id: i64,
) -> Result<Option<Booking>, StorageError> {
    Ok(bookings::table
        .inner_join(booking_subjects::table)
        .filter(booking_subjects::subject.eq(subject))
        .filter(booking_subjects::subject_id.eq(id))
        .filter(bookings::undoes.is_null())
        .filter(bookings::kind.ne(BookingKind::Expired))
        .filter(stands!())
        .order(bookings::id.desc())
        .select(Booking::as_select())
        .first(conn)
        .optional()?)
}

/// Bookings that cut from a promise and were not taken back.
pub fn cuts_of_reservation(conn: &mut Conn, reservation: i64) -> Result<Vec<i64>, StorageError> {
    Ok(cuts::table
        .filter(cuts::reservation_id.eq(reservation))
        .filter(cuts::undone_by.is_null())
        .select(cuts::booking_id)
        .load(conn)?)
}

/// Bookings of a kind that touched a subject and were not taken back, oldest first.
pub fn standing_bookings(
    conn: &mut Conn,
    subject: Subject,
    id: i64,
    kind: BookingKind,
) -> Result<Vec<Booking>, StorageError> {
    Ok(bookings::table
        .inner_join(booking_subjects::table)
        .filter(booking_subjects::subject.eq(subject))
        .filter(booking_subjects::subject_id.eq(id))
        .filter(bookings::kind.eq(kind))
        .filter(stands!())
        .order(bookings::id)
        .select(Booking::as_select())
        .load(conn)?)
}

/// What a request booked and was not taken back, newest first; promises that ended by their day meanwhile are none of it.
pub fn standing_bookings_of_request(
    conn: &mut Conn,
    request: &str,
) -> Result<Vec<i64>, StorageError> {
    Ok(bookings::table
        .filter(bookings::request_id.eq(request))
        .filter(bookings::undoes.is_null())
        .filter(bookings::kind.ne(BookingKind::Expired))
        .filter(stands!())
        .order(bookings::id.desc())
        .select(bookings::id)
        .load(conn)?)
}

/// The last booking of all.
pub fn newest_booking(conn: &mut Conn) -> Result<Option<i64>, StorageError> {
    Ok(bookings::table
        .select(bookings::id)
        .order(bookings::id.desc())
        .first(conn)
        .optional()?)
}

/// The last booking that touched a subject.
pub fn newest_booking_of(
    conn: &mut Conn,
    subject: Subject,
    id: i64,
) -> Result<Option<i64>, StorageError> {
    Ok(booking_subjects::table
        .filter(booking_subjects::subject.eq(subject))
        .filter(booking_subjects::subject_id.eq(id))
        .select(booking_subjects::booking_id)
        .order(booking_subjects::booking_id.desc())
        .first(conn)
        .optional()?)
}

/// The latest business date of the bookings that touched a subject.
pub fn last_day_of(
    conn: &mut Conn,
    subject: Subject,
    id: i64,
) -> Result<Option<NaiveDate>, StorageError> {
    Ok(bookings::table
        .inner_join(booking_subjects::table)
        .filter(booking_subjects::subject.eq(subject))
        .filter(booking_subjects::subject_id.eq(id))
        .select(diesel::dsl::max(bookings::on_date))
        .first(conn)?)
}

/// Bookings after `after`, oldest first, with what each touched.
///
/// A booking's number comes from a counter that its transaction holds until it ends, so that numbers are in the order of
/// the commits: what is read here has no gap that is filled later.
pub fn bookings_after(
    conn: &mut Conn,
    after: i64,
    limit: i64,
) -> Result<Vec<(Booking, Vec<BookingSubject>)>, StorageError> {
    let rows: Vec<Booking> = bookings::table
        .filter(bookings::id.gt(after))
        .order(bookings::id)
        .limit(limit)
        .select(Booking::as_select())
        .load(conn)?;
    let ids: Vec<i64> = rows.iter().map(|row| row.id).collect();
    let mut subjects: HashMap<i64, Vec<BookingSubject>> = HashMap::new();
    for subject in booking_subjects::table
        .filter(booking_subjects::booking_id.eq_any(&ids))
        .order((booking_subjects::subject, booking_subjects::subject_id))
        .select(BookingSubject::as_select())
        .load(conn)?
    {
        subjects
            .entry(subject.booking_id)
            .or_default()
            .push(subject);
    }
    let with = |row: Booking| {
        let touched = subjects.remove(&row.id).unwrap_or_default();
        (row, touched)
    };
    Ok(rows.into_iter().map(with).collect())
}

/// What a booking touched.
pub fn subjects_of(conn: &mut Conn, booking: i64) -> Result<Vec<BookingSubject>, StorageError> {
    Ok(booking_subjects::table
        .filter(booking_subjects::booking_id.eq(booking))
        .select(BookingSubject::as_select())
        .load(conn)?)
}

/// Pairs (booking, the one that took it back) among these.
pub fn undone_among(conn: &mut Conn, ids: &[i64]) -> Result<Vec<(i64, i64)>, StorageError> {
    let query = bookings::table.select((bookings::undoes.assume_not_null(), bookings::id));
    let pairs: Vec<(i64, i64)> = of_ids!(conn, ids, bookings::undoes, query);
    Ok(pairs)
}

/// Marks whatever a booking wrote as taken back by another: what stands has no mark. Values that it changed in other rows are
/// not its own, and are changed back.
pub fn mark_undone(conn: &mut Conn, booking: i64, by: i64) -> Result<(), StorageError> {
    macro_rules! mark {
        ($($table:ident)+) => {$(
            let of = $table::booking_id.eq(booking).and($table::undone_by.is_null());
            let set = $table::undone_by.eq(by).as_changeset();
            Change { table: stringify!($table), set, of }.execute(conn)?;
        )+};
    }
    mark!(cuts lays planned_costs purchases purchase_charges wash_tests pool_takings work_entries quotation_versions payments sales customer_measures);
    Ok(())
}

pub fn insert_trace(conn: &mut Conn, trace: &Trace) -> Result<(), StorageError> {
    diesel::insert_into(traces::table)
        .values(trace)
        .execute(conn)?;
    Ok(())
}

/// What a booking wrote over or rests on.
pub fn traces_of(conn: &mut Conn, booking: i64) -> Result<Vec<Trace>, StorageError> {
    Ok(traces::table
        .filter(traces::booking_id.eq(booking))
        .order((traces::facet, traces::subject_id, traces::part))
        .select(Trace::as_select())
        .load(conn)?)
}

/// Bookings after `after` that were not taken back and wrote a facet or rest on it, oldest first.
pub fn traced_since(
    conn: &mut Conn,
    facet: Facet,
    subject: i64,
    part: &str,
    after: i64,
) -> Result<Vec<i64>, StorageError> {
    let traced = traces::table
        .filter(traces::facet.eq(facet))
        .filter(traces::subject_id.eq(subject))
        .filter(traces::part.eq(part))
        .filter(traces::booking_id.gt(after))
        .select(traces::booking_id);
    Ok(bookings::table
        .filter(bookings::id.eq_any(traced))
        .filter(stands!())
        .order(bookings::id)
        .select(bookings::id)
        .load(conn)?)
}

/// Movements of these bookings in the order of the ledger.
pub fn movements_of(conn: &mut Conn, ids: &[i64]) -> Result<Vec<StoredMovement>, StorageError> {
    let query = movements::table
        .order(movements::sequence)
        .select(MovementRow::as_select());
    let mut rows: Vec<MovementRow> = of_ids!(conn, ids, movements::booking_id, query);
    rows.sort_by_key(|row| row.sequence);
    rows.into_iter().map(MovementRow::into_domain).collect()
}

/// The first booking after `after` that stands and took something off a place at a cost (`Movement::takes_from`).
pub fn taking_since(
    conn: &mut Conn,
    account: Account,
    after: i64,
) -> Result<Option<i64>, StorageError> {
    let at_a_cost = movements::value.gt(0).or(movements::quantity_out
        .gt(0)
        .and(movements::to_kind.ne(AccountKind::NormalLoss)));
    Ok(movements::table
        .inner_join(bookings::table)
        .filter(movements::from_kind.eq(account.kind))
        .filter(movements::from_id.eq(account.id))
        .filter(movements::booking_id.gt(after))
        .filter(movements::to_kind.ne_all([AccountKind::Supplier, AccountKind::Opening]))
        .filter(at_a_cost)
        .filter(bookings::undoes.is_null())
        .filter(stands!())
        .order(movements::sequence)
        .select(bookings::id)
        .first(conn)
        .optional()?)
}

/// Movements from or to a place, in the order of the ledger, with their business dates.
pub fn movements_at(
    conn: &mut Conn,
    account: Account,
) -> Result<Vec<(StoredMovement, NaiveDate)>, StorageError> {
    let from = movements::from_kind
        .eq(account.kind)
        .and(movements::from_id.eq(account.id));
    let to = movements::to_kind
        .eq(account.kind)
        .and(movements::to_id.eq(account.id));
    let mut rows: Vec<(MovementRow, NaiveDate)> = movements::table
        .inner_join(bookings::table)
        .filter(from)
        .select((MovementRow::as_select(), bookings::on_date))
        .load(conn)?;
    rows.extend(
        movements::table
            .inner_join(bookings::table)
            .filter(to)
            .select((MovementRow::as_select(), bookings::on_date))
            .load::<(MovementRow, NaiveDate)>(conn)?,
    );
    rows.sort_by_key(|(row, _)| row.sequence);
    rows.into_iter()
        .map(|(row, day)| Ok((row.into_domain()?, day)))
        .collect()
}
