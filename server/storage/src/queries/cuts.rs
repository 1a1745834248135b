//! What was cut.

use super::Conn;
use crate::error::StorageError;
use crate::records::CutEntry;
use crate::schema::{cuts, needs, pieces};
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
