//! What the shelf's list is asked for and answers.

use crate::condition::MassNow;
use crate::schema::{lots, materials, pieces};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::{setting::Kind, shrinkage::Preparation};

/// Filters of the shelf's list; lengths in micrometres, masses in milligrams per square metre.
#[derive(Debug, Clone, Default)]
pub struct ShelfFilter {
    /// Only this kind.
    pub kind: Option<Kind>,
    /// Only what contains this fibre.
    pub fibre: Option<String>,
    /// Only names that contain this.
    pub name: Option<String>,
    /// Only colours that contain this.
    pub colour: Option<String>,
    /// Only what lies here.
    pub place: Option<String>,
    /// Mass per area at least.
    pub mass_min: Option<i64>,
    /// Mass per area at most.
    pub mass_max: Option<i64>,
    /// Usable width at least.
    pub width_min: Option<i64>,
    /// Free length in one stretch at least; pieces with a promise that ended before the day of `overdue` come too, for
    /// what is kept of them is older.
    pub free_min: Option<i64>,
    /// Today in the workshop; promises until an earlier day hold nothing any more.
    pub overdue: NaiveDate,
    /// Also what is used up, but was not at the end of this day.
    pub stood_on: Option<NaiveDate>,
    /// After this piece: lot and number.
    pub after: Option<(i64, i64)>,
    /// Rows.
    pub limit: i64,
}

/// What lies on the shelf of a kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KindOnShelf {
    /// Kind.
    pub kind: Kind,
    /// Whether its quantities are numbers.
    pub counted: bool,
    /// On hand, without what customers own: micrometres or a number.
    pub quantity: i64,
    /// Pieces of lots whose price is not known, which count as nothing in the value.
    pub unpriced: i64,
    /// Value of its pieces and layers, in millionths.
    pub value: i64,
}

/// A piece of thread or trims that the workshop owns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Queryable)]
pub struct PooledPiece {
    /// Its material.
    pub material: i64,
    /// The piece.
    pub piece: i64,
    /// Micrometres or a number.
    pub quantity: i64,
}

/// What came to a piece or a layer, less what left it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Change {
    /// Micrometres or a number.
    pub quantity: i64,
    /// Millionths of the currency.
    pub value: i64,
}

/// A row of the shelf's list.
#[derive(Debug, Clone, Queryable, Selectable)]
#[diesel(table_name = pieces)]
#[expect(missing_docs, reason = "the columns are described in the migrations")]
pub struct ShelfRow {
    pub id: i64,
    pub lot_id: i64,
    pub number: i64,
    pub quantity: i64,
    pub held: i64,
    pub longest_free: i64,
    pub full_width_um: Option<i64>,
    pub selvedges_um: Option<i64>,
    pub value: i64,
    pub preparation: Option<Preparation>,
    pub offcut: bool,
    pub estimated: bool,
    pub place: Option<String>,
    #[diesel(select_expression = lots::owner_id)]
    pub owner_id: Option<i64>,
    #[diesel(select_expression = lots::unpriced)]
    pub unpriced: bool,
    #[diesel(select_expression = lots::value_estimated)]
    pub value_estimated: bool,
    #[diesel(select_expression = lots::colour)]
    pub colour: String,
    #[diesel(select_expression = MassNow)]
    pub mass_mg_m2: Option<i64>,
    #[diesel(select_expression = lots::sheet)]
    pub sheet: String,
    #[diesel(select_expression = lots::material_id)]
    pub material_id: i64,
    #[diesel(select_expression = materials::kind)]
    pub kind: Kind,
    #[diesel(select_expression = materials::name)]
    pub name: String,
}
