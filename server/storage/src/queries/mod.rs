//! The queries, written once and mounted for each dialect (`sqlite/mod.rs`, `postgresql/mod.rs`): the
//! mount supplies `Conn`. [`crate::Tx`] lists them all.

use super::Conn;
use crate::error::StorageError;

pub mod audit;
pub mod bookings;
pub mod garments;
pub mod lots;
pub mod pieces;
pub mod purchases;
pub mod raw;
pub mod reservations;
pub mod shelf;
pub mod tokens;
pub mod workshop;

/// Refuses to go on when a change found no row: a fault of the program, and nothing is dropped silently.
fn changed(rows: usize, what: &str, id: i64) -> Result<(), StorageError> {
    if rows == 0 {
        return Err(StorageError::Constraint(format!("there is no {what} {id} to change")));
    }
    Ok(())
}
