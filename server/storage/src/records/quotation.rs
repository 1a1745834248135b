//! Rows of quotations, quotation_versions, payments.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{payments, quotation_versions, quotations};
use chrono::{NaiveDate, NaiveDateTime};
use diesel::prelude::*;
use ellwand_domain::setting::QuotationState;
use serde::{Deserialize, Serialize};

/// A quotation: what became of it.
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
#[diesel(table_name = quotations)]
#[diesel(treat_none_as_null = true)]
pub struct Quotation {
    pub id: i64,
    pub garment_id: i64,
    pub customer_id: Option<i64>,
    pub state: QuotationState,
    pub version: i64,
    pub accepted: Option<i64>,
    pub accepted_in: Option<i64>,
    pub keep: Option<String>,
    pub accepted_option: Option<String>,
    pub supplement_to: Option<i64>,
    pub agreed_minor: Option<i64>,
}

/// A version of a quotation, never changed; `asked` and `frozen` are JSON.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = quotation_versions)]
pub struct QuotationVersion {
    pub quotation_id: i64,
    pub version: i64,
    pub on_date: NaiveDate,
    pub valid_until: NaiveDate,
    pub currency: String,
    pub gross_minor: i64,
    pub is_offer: bool,
    pub asked: String,
    pub frozen: String,
    pub booking_id: i64,
    /// The booking that took it back.
    pub undone_by: Option<i64>,
    pub made_by: String,
    pub made_at: NaiveDateTime,
}

/// A payment.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = payments)]
pub struct Payment {
    pub booking_id: i64,
    pub quotation_id: i64,
    pub minor: i64,
    pub on_date: NaiveDate,
    pub note: Option<String>,
    pub cash: bool,
    pub rounding_minor: i64,
}
