//! What was kept of plans.

use super::Conn;
use crate::error::StorageError;
use crate::records::PlannedCost;
use crate::schema::{needs, planned_costs};
use diesel::prelude::*;

/// Writes what an act ended of a plan.
pub fn insert_planned_cost(conn: &mut Conn, row: &PlannedCost) -> Result<(), StorageError> {
    diesel::insert_into(planned_costs::table)
        .values(row)
        .execute(conn)?;
    Ok(())
}

/// What was kept of a garment's plan by bookings that stand, oldest first.
pub fn planned_costs(conn: &mut Conn, garment: i64) -> Result<Vec<PlannedCost>, StorageError> {
    Ok(planned_costs::table
        .inner_join(needs::table)
        .filter(needs::garment_id.eq(garment))
        .filter(planned_costs::undone_by.is_null())
        .order((planned_costs::booking_id, planned_costs::position))
        .select(PlannedCost::as_select())
        .load(conn)?)
}
