//! Rows of sales.
#![expect(missing_docs, reason = "the columns are described in the migrations")]

use crate::schema::sales;
use diesel::prelude::*;

/// Goods of the shelf that were sold.
#[derive(Debug, Clone, PartialEq, Eq, Queryable, Selectable, Insertable)]
#[diesel(table_name = sales)]
pub struct Sale {
    pub booking_id: i64,
    pub customer_id: Option<i64>,
    pub tax_name: Option<String>,
    pub tax_ppm: i64,
    pub net_minor: i64,
    pub tax_minor: i64,
    pub gross_minor: i64,
    pub cost_minor: Option<i64>,
}
