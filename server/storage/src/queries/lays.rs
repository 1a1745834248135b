//! Lays that are kept.

use super::Conn;
use crate::error::StorageError;
use crate::records::{Lay, LayRung};
use crate::schema::{cuts, lay_rungs, lays, reservations};
use diesel::prelude::*;
use ellwand_domain::setting::ReservationState;

pub fn insert_lay(conn: &mut Conn, lay: &Lay, rungs: &[LayRung]) -> Result<(), StorageError> {
    diesel::insert_into(lays::table).values(lay).execute(conn)?;
    for rung in rungs {
        diesel::insert_into(lay_rungs::table)
            .values(rung)
            .execute(conn)?;
    }
    Ok(())
}

pub fn lay(conn: &mut Conn, id: i64) -> Result<Option<Lay>, StorageError> {
    Ok(lays::table
        .find(id)
        .select(Lay::as_select())
        .first(conn)
        .optional()?)
}

pub fn lays_of_need(conn: &mut Conn, need: i64) -> Result<Vec<Lay>, StorageError> {
    Ok(lays::table
        .filter(lays::need_id.eq(need))
        .filter(lays::undone_by.is_null())
        .order(lays::id)
        .select(Lay::as_select())
        .load(conn)?)
}

pub fn lay_lengths(conn: &mut Conn, need: i64) -> Result<Vec<(i64, i64, i64)>, StorageError> {
    Ok(lay_rungs::table
        .inner_join(lays::table)
        .filter(lays::need_id.eq(need))
        .filter(lays::undone_by.is_null())
        .order((lay_rungs::lay_id, lay_rungs::usable_um.desc()))
        .select((
            lay_rungs::lay_id,
            lay_rungs::usable_um,
            lay_rungs::length_um,
        ))
        .load(conn)?)
}

pub fn lay_rungs(conn: &mut Conn, lay: i64) -> Result<Vec<LayRung>, StorageError> {
    Ok(lay_rungs::table
        .filter(lay_rungs::lay_id.eq(lay))
        .order(lay_rungs::usable_um.desc())
        .select(LayRung::as_select())
        .load(conn)?)
}

pub fn promises_by_lay(conn: &mut Conn, lay: i64) -> Result<Vec<i64>, StorageError> {
    Ok(reservations::table
        .filter(reservations::lay_id.eq(lay))
        .filter(reservations::state.eq(ReservationState::Active))
        .order(reservations::id)
        .select(reservations::id)
        .load(conn)?)
}

pub fn cuts_by_lay(conn: &mut Conn, lay: i64) -> Result<Vec<(i64, i64)>, StorageError> {
    Ok(cuts::table
        .filter(cuts::lay_id.eq(lay))
        .filter(cuts::undone_by.is_null())
        .order(cuts::booking_id)
        .select((cuts::booking_id, cuts::quantity))
        .load(conn)?)
}

pub fn audit_lays(conn: &mut Conn, after: i64, limit: i64) -> Result<Vec<Lay>, StorageError> {
    Ok(lays::table
        .filter(lays::id.gt(after))
        .order(lays::id)
        .limit(limit)
        .select(Lay::as_select())
        .load(conn)?)
}
