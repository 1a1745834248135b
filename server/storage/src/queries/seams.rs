//! Seams of a plan, and what is added to their thread.

use super::Conn;
use crate::error::StorageError;
use crate::records::{Seam, SeamAllowance};
use crate::schema::{seam_allowances, seams};
use diesel::prelude::*;

pub fn save_seam(conn: &mut Conn, seam: &Seam) -> Result<(), StorageError> {
    diesel::insert_into(seams::table)
        .values(seam)
        .on_conflict((seams::garment_id, seams::name))
        .do_update()
        .set(seam)
        .execute(conn)?;
    Ok(())
}

/// Takes a planned seam out.
pub fn delete_seam(conn: &mut Conn, garment: i64, name: &str) -> Result<(), StorageError> {
    let planned = seams::table.filter(seams::garment_id.eq(garment));
    diesel::delete(planned.filter(seams::name.eq(name))).execute(conn)?;
    Ok(())
}

/// Planned seams in the order of the plan.
pub fn seams(conn: &mut Conn, garment: i64) -> Result<Vec<Seam>, StorageError> {
    Ok(seams::table
        .filter(seams::garment_id.eq(garment))
        .order((seams::position, seams::name))
        .select(Seam::as_select())
        .load(conn)?)
}

pub fn seam_allowance(
    conn: &mut Conn,
    garment: i64,
) -> Result<Option<SeamAllowance>, StorageError> {
    Ok(seam_allowances::table
        .find(garment)
        .select(SeamAllowance::as_select())
        .first(conn)
        .optional()?)
}

pub fn save_seam_allowance(conn: &mut Conn, allowance: &SeamAllowance) -> Result<(), StorageError> {
    diesel::insert_into(seam_allowances::table)
        .values(allowance)
        .on_conflict(seam_allowances::garment_id)
        .do_update()
        .set(allowance)
        .execute(conn)?;
    Ok(())
}

pub fn delete_seam_allowance(conn: &mut Conn, garment: i64) -> Result<(), StorageError> {
    diesel::delete(seam_allowances::table.find(garment)).execute(conn)?;
    Ok(())
}
