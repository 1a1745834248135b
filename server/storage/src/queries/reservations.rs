//! Promises.

use super::{Conn, changed};
use crate::condition::ActivePromise;
use crate::error::StorageError;
use crate::kept::Change;
use crate::records::{Need, PooledPromise, Reservation};
use crate::schema::{lots, needs, pieces, reservations};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::setting::ReservationState;

pub fn insert_reservation(conn: &mut Conn, reservation: &Reservation) -> Result<(), StorageError> {
    diesel::insert_into(reservations::table)
        .values(reservation)
        .execute(conn)?;
    Ok(())
}

pub fn update_reservation(conn: &mut Conn, reservation: &Reservation) -> Result<(), StorageError> {
    let of = reservations::id.eq(reservation.id);
    let rows = Change {
        table: "reservations",
        set: reservation.as_changeset(),
        of,
    }
    .execute(conn)?;
    changed(rows, "promise", reservation.id)
}

/// The newest promise of a line.
pub fn last_of_line(conn: &mut Conn, line: i64) -> Result<Option<Reservation>, StorageError> {
    Ok(reservations::table
        .filter(
            reservations::id
                .eq(line)
                .or(reservations::first_id.eq(line)),
        )
        .order(reservations::id.desc())
        .select(Reservation::as_select())
        .first(conn)
        .optional()?)
}

pub fn reservation(conn: &mut Conn, id: i64) -> Result<Option<Reservation>, StorageError> {
    Ok(reservations::table
        .find(id)
        .select(Reservation::as_select())
        .first(conn)
        .optional()?)
}

/// Promises of a garment in the order they were made, ended ones included.
pub fn reservations_of_garment(
    conn: &mut Conn,
    garment: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .filter(needs::garment_id.eq(garment))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Active promises of a garment, by need and not by what ended: it costs the same however many did.
pub fn active_reservations_of_garment(
    conn: &mut Conn,
    garment: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .filter(needs::garment_id.eq(garment))
        .filter(reservations::state.eq(ReservationState::Active))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Active promises whose need must be of the lot of that garment.
pub fn active_reservations_bound_to(
    conn: &mut Conn,
    garment: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .filter(needs::same_lot_as.eq(garment))
        .filter(reservations::state.eq(ReservationState::Active))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Every active promise with its need, so that only rare acts may ask.
pub fn active_reservations_with_needs(
    conn: &mut Conn,
) -> Result<Vec<(Reservation, Need)>, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .filter(reservations::state.eq(ReservationState::Active))
        .order(reservations::id)
        .select((Reservation::as_select(), Need::as_select()))
        .load(conn)?)
}

/// Promises of a garment before `before`, newest first; in one state when it is given.
pub fn reservations_before(
    conn: &mut Conn,
    garment: i64,
    state: Option<ReservationState>,
    before: i64,
    limit: i64,
) -> Result<Vec<Reservation>, StorageError> {
    let rows = reservations::table
        .inner_join(needs::table)
        .filter(needs::garment_id.eq(garment))
        .filter(reservations::id.lt(before))
        .order(reservations::id.desc())
        .limit(limit)
        .select(Reservation::as_select());
    Ok(match state {
        Some(state) => rows.filter(reservations::state.eq(state)).load(conn)?,
        None => rows.load(conn)?,
    })
}

/// How many promises of a garment have ended.
pub fn ended_reservations_of_garment(conn: &mut Conn, garment: i64) -> Result<i64, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .filter(needs::garment_id.eq(garment))
        .filter(reservations::state.ne(ReservationState::Active))
        .count()
        .get_result(conn)?)
}

/// Active promises on a piece.
pub fn active_reservations_on(
    conn: &mut Conn,
    piece: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .filter(ActivePromise)
        .filter(reservations::piece_id.eq(piece))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Active promises on a material's pieces, but for customers' own, in the order they were made.
pub fn promises_of_material(
    conn: &mut Conn,
    material: i64,
) -> Result<Vec<PooledPromise>, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .inner_join(pieces::table.inner_join(lots::table))
        .filter(ActivePromise)
        .filter(lots::material_id.eq(material))
        .filter(lots::owner_id.is_null())
        .order(reservations::id)
        .select((Reservation::as_select(), lots::id, Need::as_select()))
        .load(conn)?)
}

/// Promises that were made with a quotation, ended ones included.
pub fn reservations_of_quotation(
    conn: &mut Conn,
    quotation: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .filter(reservations::quotation_id.eq(quotation))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Promises that a booking made.
pub fn reservations_made_by(
    conn: &mut Conn,
    booking: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .filter(reservations::booking_id.eq(booking))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Promises that a booking ended.
pub fn reservations_ended_by(
    conn: &mut Conn,
    booking: i64,
) -> Result<Vec<Reservation>, StorageError> {
    Ok(reservations::table
        .filter(reservations::ended_by.eq(booking))
        .order(reservations::id)
        .select(Reservation::as_select())
        .load(conn)?)
}

/// Pieces, of these, with an active promise whose last day has passed.
pub fn pieces_with_overdue(
    conn: &mut Conn,
    pieces: &[i64],
    today: NaiveDate,
) -> Result<Vec<i64>, StorageError> {
    let overdue = reservations::table
        .filter(ActivePromise)
        .filter(reservations::until.lt(today))
        .select(reservations::piece_id)
        .distinct();
    let pieces: Vec<i64> = of_ids!(conn, pieces, reservations::piece_id, overdue);
    Ok(pieces)
}
