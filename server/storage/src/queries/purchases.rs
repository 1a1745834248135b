//! Purchases with their lines and charges.

use super::{Conn, changed};
use crate::error::StorageError;
use crate::records::{Purchase, PurchaseCharge, PurchaseLine};
use crate::schema::{purchase_charges, purchase_lines, purchases};
use diesel::prelude::*;

pub fn insert_purchase(conn: &mut Conn, purchase: &Purchase) -> Result<(), StorageError> {
    diesel::insert_into(purchases::table)
        .values(purchase)
        .execute(conn)?;
    Ok(())
}

pub fn update_purchase(conn: &mut Conn, purchase: &Purchase) -> Result<(), StorageError> {
    let rows = diesel::update(purchases::table.find(purchase.id))
        .set(purchase)
        .execute(conn)?;
    changed(rows, "purchase", purchase.id)
}

pub fn purchase(conn: &mut Conn, id: i64) -> Result<Option<Purchase>, StorageError> {
    Ok(purchases::table
        .find(id)
        .select(Purchase::as_select())
        .first(conn)
        .optional()?)
}

/// Purchases before `before`, newest first.
pub fn purchases(conn: &mut Conn, before: i64, limit: i64) -> Result<Vec<Purchase>, StorageError> {
    Ok(purchases::table
        .filter(purchases::id.lt(before))
        .order(purchases::id.desc())
        .limit(limit)
        .select(Purchase::as_select())
        .load(conn)?)
}

/// Purchases in a currency that stand, newest first.
pub fn purchases_in(
    conn: &mut Conn,
    currency: &str,
    limit: i64,
) -> Result<Vec<Purchase>, StorageError> {
    Ok(purchases::table
        .filter(purchases::currency.eq(currency))
        .filter(purchases::undone_by.is_null())
        .order(purchases::id.desc())
        .limit(limit)
        .select(Purchase::as_select())
        .load(conn)?)
}

/// Purchases that stand and were read from this file, newest first.
pub fn purchases_of_file(conn: &mut Conn, sha256: &str) -> Result<Vec<Purchase>, StorageError> {
    Ok(purchases::table
        .filter(purchases::file_sha256.eq(sha256))
        .filter(purchases::undone_by.is_null())
        .order(purchases::id.desc())
        .select(Purchase::as_select())
        .load(conn)?)
}

/// Purchases that stand with an invoice of this number from a supplier, newest first.
pub fn purchases_of_invoice(
    conn: &mut Conn,
    supplier: i64,
    invoice: &str,
) -> Result<Vec<Purchase>, StorageError> {
    Ok(purchases::table
        .filter(purchases::supplier_id.eq(supplier))
        .filter(purchases::invoice.eq(invoice))
        .filter(purchases::undone_by.is_null())
        .order(purchases::id.desc())
        .select(Purchase::as_select())
        .load(conn)?)
}

pub fn insert_purchase_line(conn: &mut Conn, line: &PurchaseLine) -> Result<(), StorageError> {
    diesel::insert_into(purchase_lines::table)
        .values(line)
        .execute(conn)?;
    Ok(())
}

pub fn update_purchase_line(conn: &mut Conn, line: &PurchaseLine) -> Result<(), StorageError> {
    let row = purchase_lines::table.find((line.purchase_id, line.position));
    let rows = diesel::update(row).set(line).execute(conn)?;
    changed(rows, "purchase line", line.position)
}

pub fn purchase_lines(conn: &mut Conn, purchase: i64) -> Result<Vec<PurchaseLine>, StorageError> {
    Ok(purchase_lines::table
        .filter(purchase_lines::purchase_id.eq(purchase))
        .order(purchase_lines::position)
        .select(PurchaseLine::as_select())
        .load(conn)?)
}

pub fn insert_purchase_charge(
    conn: &mut Conn,
    charge: &PurchaseCharge,
) -> Result<(), StorageError> {
    diesel::insert_into(purchase_charges::table)
        .values(charge)
        .execute(conn)?;
    Ok(())
}

/// Charges that stand, in order.
pub fn purchase_charges(
    conn: &mut Conn,
    purchase: i64,
) -> Result<Vec<PurchaseCharge>, StorageError> {
    Ok(purchase_charges::table
        .filter(purchase_charges::purchase_id.eq(purchase))
        .filter(purchase_charges::undone_by.is_null())
        .order(purchase_charges::position)
        .select(PurchaseCharge::as_select())
        .load(conn)?)
}
