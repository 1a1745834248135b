//! Rows of pieces, stretches, flaws.
use crate::schema::{flaws, pieces, stretches};
use chrono::NaiveDate;
use diesel::prelude::*;

/// A piece as stored.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = pieces)]
#[diesel(treat_none_as_null = true)]
pub(crate) struct PieceRow {
    pub(crate) id: i64,
    pub(crate) lot_id: i64,
    pub(crate) number: i64,
    pub(crate) quantity: i64,
    pub(crate) full_width_um: Option<i64>,
    pub(crate) selvedges_um: Option<i64>,
    pub(crate) value: i64,
    pub(crate) held: i64,
    pub(crate) longest_free: i64,
    pub(crate) preparation: Option<String>,
    pub(crate) offcut: bool,
    pub(crate) place: Option<String>,
    pub(crate) received: NaiveDate,
    pub(crate) prepared: Option<NaiveDate>,
    pub(crate) last_on: NaiveDate,
    pub(crate) mass_factor_ppm: i64,
    pub(crate) tare_mg: Option<i64>,
    pub(crate) estimated: bool,
}

/// A stretch as stored.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = stretches, primary_key(piece_id, position))]
#[diesel(treat_none_as_null = true)]
pub(crate) struct StretchRow {
    pub(crate) piece_id: i64,
    pub(crate) position: i64,
    pub(crate) start_um: i64,
    pub(crate) length: i64,
    pub(crate) held: i64,
}

/// A flaw as stored.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = flaws, primary_key(piece_id, position))]
#[diesel(treat_none_as_null = true)]
pub(crate) struct FlawRow {
    pub(crate) piece_id: i64,
    pub(crate) position: i64,
    pub(crate) at_um: i64,
    pub(crate) length_um: i64,
    pub(crate) note: String,
}
