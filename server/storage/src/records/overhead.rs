//! Rows of overhead_spent, and of the work that carries overhead.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{overhead_spent, work_reversals};
use chrono::NaiveDate;
use diesel::prelude::*;
use serde::{Deserialize, Serialize};

/// Overhead that was spent in a period; millionths.
#[derive(Queryable, Selectable, Insertable)]
#[diesel(table_name = overhead_spent)]
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OverheadSpent {
    pub id: i64,
    pub from_date: NaiveDate,
    pub to_date: NaiveDate,
    pub amount: i64,
}

/// Minutes of a day on a garment, or what was taken back of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayWork {
    /// The day of the work, whose rate counts.
    pub on_date: NaiveDate,
    /// Below zero: taken back.
    pub minutes: i64,
    pub billable: bool,
    /// Taken back because the garment was given up.
    pub cancelled: bool,
}

/// Minutes that are taken back (-1) or given again (1), on the day where they count.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = work_reversals)]
pub struct WorkReversal {
    pub id: i64,
    pub work_id: i64,
    pub on_date: NaiveDate,
    pub sign: i64,
    pub cancelled: bool,
}
