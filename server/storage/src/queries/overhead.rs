//! What was spent on overhead, and the minutes that carried it.

use super::Conn;
use crate::error::StorageError;
use crate::records::{DayWork, OverheadSpent};
use crate::schema::{garments, overhead_spent, work_entries};
use chrono::NaiveDate;
use diesel::prelude::*;

/// Periods for which an amount is kept, newest first.
pub fn overhead_spent(conn: &mut Conn) -> Result<Vec<OverheadSpent>, StorageError> {
    let newest = (overhead_spent::from_date.desc(), overhead_spent::to_date.desc());
    Ok(overhead_spent::table.order(newest).select(OverheadSpent::as_select()).load(conn)?)
}

/// Writes what was spent; what was kept for the same days is replaced.
pub fn save_overhead_spent(conn: &mut Conn, spent: &OverheadSpent) -> Result<(), StorageError> {
    diesel::insert_into(overhead_spent::table)
        .values(spent)
        .on_conflict((overhead_spent::from_date, overhead_spent::to_date))
        .do_update()
        .set(overhead_spent::amount.eq(spent.amount))
        .execute(conn)?;
    Ok(())
}

/// Takes what was kept for these days out; false when there is nothing.
pub fn delete_overhead_spent(conn: &mut Conn, from: NaiveDate, to: NaiveDate) -> Result<bool, StorageError> {
    let same = overhead_spent::table.filter(overhead_spent::from_date.eq(from));
    Ok(diesel::delete(same.filter(overhead_spent::to_date.eq(to))).execute(conn)? > 0)
}

/// Minutes logged on the days of a period that were not taken back, in order; found by an index on the day.
pub fn work_between(conn: &mut Conn, from: NaiveDate, to: NaiveDate) -> Result<Vec<DayWork>, StorageError> {
    let columns = (work_entries::on_date, work_entries::minutes, work_entries::billable, garments::state);
    Ok(work_entries::table
        .inner_join(garments::table)
        .filter(work_entries::on_date.between(from, to))
        .filter(work_entries::undone.eq(false))
        .order((work_entries::on_date, work_entries::id))
        .select(columns)
        .load(conn)?)
}
