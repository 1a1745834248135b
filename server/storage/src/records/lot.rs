//! Rows of materials, lots, wash_tests, layers.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{layers, lots, materials, pool_shares, pool_takings, wash_tests};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::{ledger::AccountKind, setting::Kind};

/// What a thing is; `sheet` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = materials)]
#[diesel(treat_none_as_null = true)]
pub struct Material {
    pub id: i64,
    pub kind: Kind,
    pub name: String,
    pub sheet: String,
    pub counted: bool,
    pub least: Option<i64>,
}

/// What was bought together; `sheet` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = lots)]
#[diesel(treat_none_as_null = true)]
pub struct Lot {
    pub id: i64,
    pub material_id: i64,
    pub purchase_id: i64,
    pub owner_id: Option<i64>,
    pub received: NaiveDate,
    pub dye_lot: Option<String>,
    pub paid: Option<String>,
    pub sheet: String,
    pub colour: String,
    pub mass_mg_m2: Option<i64>,
    pub next_piece: i64,
    pub landed: i64,
    pub unpriced: bool,
    pub replacement_value: Option<i64>,
    pub replacement_per: Option<i64>,
    pub value_estimated: bool,
}

/// A wash test; `test` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = wash_tests)]
#[diesel(treat_none_as_null = true)]
pub struct WashTest {
    pub id: i64,
    pub lot_id: i64,
    pub number: i64,
    pub booking_id: i64,
    pub on_date: NaiveDate,
    pub test: String,
    pub note: Option<String>,
}

/// A cost layer.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = layers)]
#[diesel(treat_none_as_null = true)]
pub struct Layer {
    pub id: i64,
    pub material_id: i64,
    pub lot_id: Option<i64>,
    pub quantity: i64,
    pub value: i64,
}

/// What of a lot's receipt lies in a pool, in billionths.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = pool_shares)]
pub struct PoolShare {
    pub lot_id: i64,
    pub layer_id: i64,
    pub share: i64,
}

/// What of a lot's receipt a booking took out of a pool, in billionths; negative where it brought some back.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = pool_takings)]
pub struct PoolTaking {
    pub booking_id: i64,
    pub lot_id: i64,
    pub to_kind: AccountKind,
    pub to_id: i64,
    pub share: i64,
}
