//! Rows of garments, needs, operations, seams, reservations, work_entries.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{
    detail_ratings, garments, lay_rungs, lays, needs, operations, planned_costs, reservations,
    seam_allowances, seams, work_entries,
};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::setting::{
    GarmentState, Kind, ReservationState, Spoilage, WorkKind, WorkReason,
};
use serde::{Deserialize, Serialize};

/// A garment or batch.
#[derive(
    Debug,
    Clone,
    PartialEq,
    Eq,
    Queryable,
    Selectable,
    Insertable,
    AsChangeset,
    Serialize,
    Deserialize,
)]
#[diesel(table_name = garments)]
#[diesel(treat_none_as_null = true)]
pub struct Garment {
    pub id: i64,
    pub name: String,
    pub customer_id: Option<i64>,
    pub count: i64,
    pub good: Option<i64>,
    pub spoiled: Option<i64>,
    pub spoilage: Option<Spoilage>,
    pub salvage: i64,
    pub due: Option<NaiveDate>,
    pub state: GarmentState,
    pub note: Option<String>,
}

/// A need; `need` is JSON.
#[derive(
    Debug,
    Clone,
    PartialEq,
    Eq,
    Queryable,
    Selectable,
    Insertable,
    AsChangeset,
    Serialize,
    Deserialize,
)]
#[diesel(table_name = needs)]
#[diesel(treat_none_as_null = true)]
pub struct Need {
    pub id: i64,
    pub garment_id: i64,
    pub role: String,
    pub kind: Kind,
    pub need: String,
    pub units: i64,
    pub estimate: Option<i64>,
    pub dropped: bool,
    pub detail: Option<String>,
    /// The garment whose lot it must be of.
    pub same_lot_as: Option<i64>,
}

/// A planned operation.
#[derive(
    Debug,
    Clone,
    PartialEq,
    Eq,
    Queryable,
    Selectable,
    Insertable,
    AsChangeset,
    Serialize,
    Deserialize,
)]
#[diesel(table_name = operations, primary_key(garment_id, name))]
#[diesel(treat_none_as_null = true)]
pub struct Operation {
    pub garment_id: i64,
    pub name: String,
    pub position: i64,
    pub kind: WorkKind,
    pub minutes: i64,
    pub person_id: i64,
    pub billable: bool,
    pub detail: Option<String>,
}

/// A planned seam; `seam` is JSON.
#[derive(
    Debug,
    Clone,
    PartialEq,
    Eq,
    Queryable,
    Selectable,
    Insertable,
    AsChangeset,
    Serialize,
    Deserialize,
)]
#[diesel(table_name = seams, primary_key(garment_id, name))]
#[diesel(treat_none_as_null = true)]
pub struct Seam {
    pub garment_id: i64,
    pub name: String,
    pub position: i64,
    pub stitch: String,
    pub count: i64,
    pub length_um: Option<i64>,
    pub needle: String,
    pub under: String,
    pub seam: String,
    pub detail: Option<String>,
}

/// A kept lay; `laid` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = lays)]
pub struct Lay {
    pub id: i64,
    pub need_id: i64,
    pub booking_id: i64,
    #[diesel(skip_insertion)]
    pub undone_by: Option<i64>,
    pub laid: String,
    pub note: Option<String>,
}

/// A lay from a usable width on; `placements` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = lay_rungs, primary_key(lay_id, usable_um))]
pub struct LayRung {
    pub lay_id: i64,
    pub usable_um: i64,
    pub length_um: i64,
    pub placements: String,
}

/// What is added to the thread of a plan's seams.
#[derive(
    Debug,
    Clone,
    PartialEq,
    Eq,
    Queryable,
    Selectable,
    Insertable,
    AsChangeset,
    Serialize,
    Deserialize,
)]
#[diesel(table_name = seam_allowances, primary_key(garment_id))]
pub struct SeamAllowance {
    pub garment_id: i64,
    pub ends_um: i64,
    pub waste_ppm: i64,
}

/// A promise; `asked` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = reservations)]
#[diesel(treat_none_as_null = true)]
pub struct Reservation {
    pub id: i64,
    pub need_id: i64,
    pub piece_id: i64,
    pub state: ReservationState,
    pub held: i64,
    pub stretch: i64,
    pub asked: String,
    pub promised: NaiveDate,
    pub until: Option<NaiveDate>,
    pub booking_id: i64,
    pub ended_by: Option<i64>,
    pub ended_because: Option<String>,
    pub quotation_id: Option<i64>,
    /// The promise that it stands in the place of after an undo, the first of its line.
    pub first_id: Option<i64>,
    /// Separate lengths that it is of; none of a share.
    pub lengths: i64,
    /// A part of one unit: micrometres of washed length or of thread, or a number of trims.
    pub share: Option<i64>,
    /// The kept lay that it was made by.
    pub lay_id: Option<i64>,
}

impl Reservation {
    /// The first promise of its line: itself, but for what undo made again.
    #[must_use]
    pub fn line(&self) -> i64 {
        self.first_id.unwrap_or(self.id)
    }
}

/// A promise of thread or trims, with its lot and its need.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct PooledPromise {
    pub row: Reservation,
    pub lot: i64,
    pub need: Need,
}

/// Minutes of an operation on a past garment or batch.
#[derive(Debug, Clone, PartialEq, Eq, Queryable)]
pub struct PastMinutes {
    pub garment_id: i64,
    pub minutes: i64,
    /// Garments that were started.
    pub count: i64,
}

/// Minutes worked.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = work_entries)]
#[diesel(treat_none_as_null = true)]
pub struct WorkEntry {
    pub id: i64,
    pub booking_id: i64,
    pub garment_id: i64,
    pub operation: String,
    pub kind: WorkKind,
    pub minutes: i64,
    pub person_id: i64,
    pub billable: bool,
    pub reason: WorkReason,
    pub on_date: NaiveDate,
    pub detail: Option<String>,
}

/// What an act ended of a need's plan.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = planned_costs)]
pub struct PlannedCost {
    pub booking_id: i64,
    pub position: i64,
    pub need_id: i64,
    pub lot_id: Option<i64>,
    /// Micrometres or pieces, where it is known.
    pub quantity: Option<i64>,
    /// Millionths; none where its lot had no price.
    pub value: Option<i64>,
}

/// What a detail of a garment was worth, from 1 to 5.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = detail_ratings, primary_key(garment_id, name_search))]
pub struct DetailRating {
    pub garment_id: i64,
    pub name_search: String,
    pub name: String,
    pub rating: i64,
    pub booking_id: i64,
}
