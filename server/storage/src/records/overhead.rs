//! Rows of overhead_spent, and of the work that carries overhead.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::overhead_spent;
use crate::word::Word;
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::setting::GarmentState;

/// Overhead that was spent in a period; millionths.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = overhead_spent)]
pub struct OverheadSpent {
    pub id: i64,
    pub from_date: NaiveDate,
    pub to_date: NaiveDate,
    pub amount: i64,
}

/// Minutes of a day on a garment, and what became of it.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct DayWork {
    pub on_date: NaiveDate,
    pub minutes: i64,
    pub billable: bool,
    pub state: Word<GarmentState>,
}
