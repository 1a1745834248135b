//! Goods of the shelf that were sold.

use super::Conn;
use crate::error::StorageError;
use crate::records::Sale;
use crate::schema::{bookings, sales};
use chrono::NaiveDate;
use diesel::prelude::*;

pub fn insert_sale(conn: &mut Conn, sale: &Sale) -> Result<(), StorageError> {
    diesel::insert_into(sales::table)
        .values(sale)
        .execute(conn)?;
    Ok(())
}

/// Sale of a booking, whether it was taken back or not.
pub fn sale(conn: &mut Conn, booking: i64) -> Result<Option<Sale>, StorageError> {
    Ok(sales::table
        .find(booking)
        .select(Sale::as_select())
        .first(conn)
        .optional()?)
}

/// Sales of these days that stand.
pub fn sold_between(
    conn: &mut Conn,
    first: NaiveDate,
    last: NaiveDate,
) -> Result<Vec<Sale>, StorageError> {
    Ok(sales::table
        .inner_join(bookings::table.on(sales::booking_id.eq(bookings::id)))
        .filter(bookings::on_date.between(first, last))
        .filter(sales::undone_by.is_null())
        .select(Sale::as_select())
        .load(conn)?)
}
