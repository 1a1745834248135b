//! Rows of cuts, and of what counts beside them.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use super::Reservation;
use crate::schema::{cuts, needs, pieces};
use diesel::prelude::*;
use ellwand_domain::setting::CutReason;

/// What was cut. The garment and the role are those of its need, the lot is that of its piece: they are read, not written.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = cuts, primary_key(booking_id))]
pub struct CutEntry {
    pub booking_id: i64,
    pub need_id: i64,
    #[diesel(skip_insertion, select_expression = needs::garment_id)]
    pub garment_id: i64,
    #[diesel(skip_insertion, select_expression = needs::role)]
    pub role: String,
    pub piece_id: i64,
    #[diesel(skip_insertion, select_expression = pieces::lot_id)]
    pub lot_id: i64,
    pub reason: CutReason,
    pub quantity: i64,
    pub wasted: i64,
    pub panel_width_um: Option<i64>,
    pub strip_id: Option<i64>,
    pub outer_id: Option<i64>,
    pub reservation_id: Option<i64>,
    pub drawn: i64,
    pub fills: i64,
    pub width_um: Option<i64>,
    pub lay_id: Option<i64>,
}

/// A cut that stands, with the first of the line of promises that it was drawn from, where that is another than the one itself.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct StandingCut {
    pub cut: CutEntry,
    pub first_id: Option<i64>,
}

impl StandingCut {
    /// The first promise of the line that it was drawn from.
    #[must_use]
    pub fn line(&self) -> Option<i64> {
        self.first_id.or(self.cut.reservation_id)
    }
}

/// What was cut from a line of promises.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct CutOfLine {
    /// Of the units of the need.
    pub fills: i64,
    /// Off what was held.
    pub drawn: i64,
    /// Of that, for nothing that its need counts: a swatch, a toile.
    pub unfilled: i64,
}

/// An active promise with its lot.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct StandingPromise {
    pub row: Reservation,
    pub lot: i64,
}
