//! Rows of suppliers, customers.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{customer_measures, customers, suppliers};
use chrono::NaiveDate;
use diesel::prelude::*;

/// A supplier.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = suppliers)]
#[diesel(treat_none_as_null = true)]
pub struct Supplier {
    pub id: i64,
    pub name: String,
    pub note: String,
}

/// A customer.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable, AsChangeset)]
#[diesel(table_name = customers)]
#[diesel(treat_none_as_null = true)]
pub struct Customer {
    pub id: i64,
    pub name: String,
    pub note: String,
}

/// A measurement of a customer.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = customer_measures)]
pub struct CustomerMeasure {
    pub booking_id: i64,
    pub customer_id: i64,
    pub name: String,
    pub length_um: i64,
    pub typed: String,
    pub on_date: NaiveDate,
}
