//! Goods of the shelf that were sold.

use super::Conn;
use crate::error::StorageError;
use crate::month::SoldSum;
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
) -> Result<SoldSum, StorageError> {
    let rows: Vec<(i64, i64, Option<i64>)> = bookings::table
        .inner_join(sales::table.on(sales::booking_id.eq(bookings::id)))
        .filter(bookings::on_date.between(first, last))
        .filter(sales::undone_by.is_null())
        .select((sales::net_minor, sales::gross_minor, sales::cost_minor))
        .load(conn)?;
    let mut sum = SoldSum::default();
    for (net, gross, cost) in rows {
        sum.count = sum.count.saturating_add(1);
        sum.gross = sum.gross.saturating_add(gross);
        match cost {
            Some(cost) => sum.gain = sum.gain.saturating_add(net.saturating_sub(cost)),
            None => sum.unpriced = sum.unpriced.saturating_add(1),
        }
    }
    Ok(sum)
}
