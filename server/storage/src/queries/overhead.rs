//! What was spent on overhead, and the minutes that carried it.

use super::Conn;
use crate::error::StorageError;
use crate::records::{DayWork, OverheadSpent, WorkEntry, WorkReversal};
use crate::schema::{garments, overhead_spent, work_entries, work_reversals};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::setting::GarmentState;

/// Periods for which an amount is kept, newest first.
pub fn overhead_spent(conn: &mut Conn) -> Result<Vec<OverheadSpent>, StorageError> {
    let newest = (
        overhead_spent::from_date.desc(),
        overhead_spent::to_date.desc(),
    );
    Ok(overhead_spent::table
        .order(newest)
        .select(OverheadSpent::as_select())
        .load(conn)?)
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
pub fn delete_overhead_spent(
    conn: &mut Conn,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<bool, StorageError> {
    let same = overhead_spent::table.filter(overhead_spent::from_date.eq(from));
    Ok(diesel::delete(same.filter(overhead_spent::to_date.eq(to))).execute(conn)? > 0)
}

/// Minutes logged on the days of a period, and what counts there as taken back, by the days of the work; found by indexes on
/// the day.
pub fn work_between(
    conn: &mut Conn,
    from: NaiveDate,
    to: NaiveDate,
) -> Result<Vec<DayWork>, StorageError> {
    let columns = (
        work_entries::on_date,
        work_entries::minutes,
        work_entries::billable,
    );
    let logged: Vec<(NaiveDate, i64, bool)> = work_entries::table
        .filter(work_entries::on_date.between(from, to))
        .order(work_entries::id)
        .select(columns)
        .load(conn)?;
    let back: Vec<((NaiveDate, i64, bool), i64, bool)> = work_reversals::table
        .inner_join(work_entries::table)
        .filter(work_reversals::on_date.between(from, to))
        .order(work_reversals::id)
        .select((columns, work_reversals::sign, work_reversals::cancelled))
        .load(conn)?;
    let logged = logged.into_iter().map(|work| (work, 1, false));
    let mut all: Vec<DayWork> = logged
        .chain(back)
        .map(|((on_date, minutes, billable), sign, cancelled)| DayWork {
            on_date,
            minutes: minutes.saturating_mul(sign),
            billable,
            cancelled,
        })
        .collect();
    all.sort_by_key(|work| work.on_date);
    Ok(all)
}

/// Billable work of finished and delivered garments from a day on, in order.
pub fn final_work(conn: &mut Conn, from: NaiveDate) -> Result<Vec<WorkEntry>, StorageError> {
    let finished = garments::state.eq(GarmentState::Finished);
    Ok(work_entries::table
        .inner_join(garments::table)
        .filter(work_entries::on_date.ge(from))
        .filter(work_entries::undone_by.is_null())
        .filter(work_entries::billable.eq(true))
        .filter(finished.or(garments::state.eq(GarmentState::Delivered)))
        .order(work_entries::id)
        .select(WorkEntry::as_select())
        .load(conn)?)
}

pub fn insert_work_reversal(conn: &mut Conn, reversal: &WorkReversal) -> Result<(), StorageError> {
    diesel::insert_into(work_reversals::table)
        .values(reversal)
        .execute(conn)?;
    Ok(())
}

/// Where minutes were taken back or given again, in order.
pub fn work_reversals(conn: &mut Conn, work: i64) -> Result<Vec<WorkReversal>, StorageError> {
    Ok(work_reversals::table
        .filter(work_reversals::work_id.eq(work))
        .order(work_reversals::id)
        .select(WorkReversal::as_select())
        .load(conn)?)
}
