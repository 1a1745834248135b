//! Rows of purchases, purchase_lines, purchase_charges.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{purchase_charges, purchase_lines, purchases};
use chrono::NaiveDate;
use diesel::prelude::*;
use ellwand_domain::setting::{ChargeKind, ReclaimBy};

/// An invoice; amounts in minor units of its currency, `home_value` in millionths.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = purchases)]
#[diesel(treat_none_as_null = true)]
pub struct Purchase {
    pub id: i64,
    pub booking_id: i64,
    /// The booking that took it back.
    pub undone_by: Option<i64>,
    pub supplier_id: Option<i64>,
    pub on_date: NaiveDate,
    pub invoice: Option<String>,
    pub currency: String,
    pub rate: Option<String>,
    pub invoice_minor: i64,
    pub home_value: i64,
    pub remarks: String,
    pub note: Option<String>,
    pub opening: bool,
    pub file_sha256: Option<String>,
}

/// A line of a purchase.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = purchase_lines, primary_key(purchase_id, position))]
#[diesel(treat_none_as_null = true)]
pub struct PurchaseLine {
    pub purchase_id: i64,
    pub position: i64,
    pub lot_id: i64,
    pub price_minor: i64,
    pub amount_minor: i64,
    pub landed: i64,
    pub quantity: i64,
    pub length_um: Option<i64>,
    pub mass_mg: Option<i64>,
}

/// A charge; `shares` is JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = purchase_charges, primary_key(purchase_id, position, booking_id))]
#[diesel(treat_none_as_null = true)]
pub struct PurchaseCharge {
    pub purchase_id: i64,
    pub position: i64,
    pub booking_id: i64,
    pub kind: ChargeKind,
    pub amount_minor: i64,
    pub currency: String,
    pub share: String,
    pub late: bool,
    pub shares: String,
    pub reclaimed: bool,
    pub reclaim_by: Option<ReclaimBy>,
    pub reclaim_from: Option<NaiveDate>,
}
