//! What was cut.

use super::Conn;
use crate::condition::ActivePromise;
use crate::error::StorageError;
use crate::records::{CutEntry, CutOfLine, Reservation, StandingCut, StandingPromise};
use crate::schema::{cuts, needs, pieces, reservations};
use diesel::prelude::*;

/// Cuts that stand, in the order they were booked.
macro_rules! standing {
    ($conn:expr, $of:expr) => {
        Ok(cuts::table
            .inner_join(needs::table)
            .inner_join(pieces::table)
            .filter(cuts::undone_by.is_null())
            .filter($of)
            .order(cuts::booking_id)
            .select(CutEntry::as_select())
            .load($conn)?)
    };
}

pub fn insert_cut(conn: &mut Conn, cut: &CutEntry) -> Result<(), StorageError> {
    diesel::insert_into(cuts::table).values(cut).execute(conn)?;
    Ok(())
}

/// The cut of a booking, whether it was taken back or not.
pub fn cut(conn: &mut Conn, booking: i64) -> Result<Option<CutEntry>, StorageError> {
    Ok(cuts::table
        .inner_join(needs::table)
        .inner_join(pieces::table)
        .filter(cuts::booking_id.eq(booking))
        .select(CutEntry::as_select())
        .first(conn)
        .optional()?)
}

/// Cuts for a garment that stand, oldest first.
pub fn cuts_of_garment(conn: &mut Conn, garment: i64) -> Result<Vec<CutEntry>, StorageError> {
    standing!(conn, needs::garment_id.eq(garment))
}

/// Cuts for a need that stand, oldest first.
pub fn cuts_of_need(conn: &mut Conn, need: i64) -> Result<Vec<CutEntry>, StorageError> {
    standing!(conn, cuts::need_id.eq(need))
}

/// Cuts of a lot's pieces that stand, oldest first.
pub fn cuts_of_lot(conn: &mut Conn, lot: i64) -> Result<Vec<CutEntry>, StorageError> {
    standing!(conn, pieces::lot_id.eq(lot))
}

/// Cuts for a garment that stand, oldest first, each with the line of promises that it was drawn from.
pub fn standing_cuts(conn: &mut Conn, garment: i64) -> Result<Vec<StandingCut>, StorageError> {
    let drawn_from = reservations::id.nullable().eq(cuts::reservation_id);
    Ok(cuts::table
        .inner_join(needs::table.on(needs::id.eq(cuts::need_id)))
        .inner_join(pieces::table.on(pieces::id.eq(cuts::piece_id)))
        .left_join(reservations::table.on(drawn_from))
        .filter(needs::garment_id.eq(garment))
        .filter(cuts::undone_by.is_null())
        .order(cuts::booking_id)
        .select((CutEntry::as_select(), reservations::first_id.nullable()))
        .load(conn)?)
}

/// What was cut from a line of promises: of its units, and off what was held.
pub fn cut_of_line(conn: &mut Conn, line: i64) -> Result<CutOfLine, StorageError> {
    let drawn_from = reservations::id.nullable().eq(cuts::reservation_id);
    let again = reservations::first_id.eq(line).assume_not_null();
    let cuts: Vec<(i64, i64)> = cuts::table
        .inner_join(reservations::table.on(drawn_from))
        .filter(reservations::id.eq(line).or(again))
        .filter(cuts::undone_by.is_null())
        .select((cuts::fills, cuts::drawn))
        .load(conn)?;
    let mut sum = CutOfLine::default();
    for (fills, drawn) in cuts {
        sum.fills = sum.fills.saturating_add(fills);
        sum.drawn = sum.drawn.saturating_add(drawn);
        if fills == 0 {
            sum.unfilled = sum.unfilled.saturating_add(drawn);
        }
    }
    Ok(sum)
}

/// Active promises of a garment with their lots, in the order they were made.
pub fn standing_promises(
    conn: &mut Conn,
    garment: i64,
) -> Result<Vec<StandingPromise>, StorageError> {
    Ok(reservations::table
        .inner_join(needs::table)
        .inner_join(pieces::table)
        .filter(needs::garment_id.eq(garment))
        .filter(ActivePromise)
        .order(reservations::id)
        .select((Reservation::as_select(), pieces::lot_id))
        .load(conn)?)
}
