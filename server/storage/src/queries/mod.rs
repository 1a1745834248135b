//! The queries, written once and mounted for each dialect (`sqlite/mod.rs`, `postgresql/mod.rs`): the
//! mount supplies `Conn`. [`crate::Tx`] lists them all.

use super::Conn;
use crate::error::StorageError;

/// Ids a query names at once; well below what either dialect binds.
const BATCH: usize = 500;

/// Rows of these ids, a batch at a time. One id is compared alone: a list of them cannot stay prepared on SQLite.
macro_rules! of_ids {
    ($conn:expr, $ids:expr, $column:expr, $query:expr) => {{
        let mut all = Vec::new();
        for batch in $ids.chunks(super::BATCH) {
            match batch {
                [id] => all.append(&mut $query.clone().filter($column.eq(*id)).load($conn)?),
                _ => all.append(&mut $query.clone().filter($column.eq_any(batch)).load($conn)?),
            }
        }
        all
    }};
}

/// That no booking took a booking back.
macro_rules! stands {
    () => {{
        let undone = diesel::alias!(crate::schema::bookings as undone);
        let taken_back = undone
            .filter(
                undone
                    .field(crate::schema::bookings::undoes)
                    .eq(crate::schema::bookings::id.nullable()),
            )
            .select(undone.field(crate::schema::bookings::id));
        diesel::dsl::not(diesel::dsl::exists(taken_back))
    }};
}

pub mod audit;
pub mod bookings;
pub mod cuts;
pub mod details;
pub mod erasing;
pub mod garments;
pub mod lays;
pub mod lots;
pub mod months;
pub mod overhead;
pub mod pieces;
pub mod planned;
pub mod pools;
pub mod purchases;
pub mod quotations;
pub mod raw;
pub mod reservations;
pub mod sales;
pub mod seams;
pub mod shelf;
pub mod tokens;
pub mod workshop;

/// Refuses to go on when a change found no row: a fault of the program, and nothing is dropped silently.
fn changed(rows: usize, what: &str, id: i64) -> Result<(), StorageError> {
    if rows == 0 {
        return Err(StorageError::Constraint(format!(
            "there is no {what} {id} to change"
        )));
    }
    Ok(())
}
