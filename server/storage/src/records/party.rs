//! Rows of suppliers, customers.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::{customers, suppliers};
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
