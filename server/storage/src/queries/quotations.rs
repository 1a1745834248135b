//! Quotations, their versions and payments.

use super::{Conn, changed};
use crate::error::StorageError;
use crate::kept::Change;
use crate::records::{Payment, Quotation, QuotationVersion};
use crate::schema::{payments, quotation_versions, quotations};
use diesel::prelude::*;
use ellwand_domain::setting::QuotationState;

pub fn insert_quotation(conn: &mut Conn, quotation: &Quotation) -> Result<(), StorageError> {
    diesel::insert_into(quotations::table)
        .values(quotation)
        .execute(conn)?;
    Ok(())
}

pub fn update_quotation(conn: &mut Conn, quotation: &Quotation) -> Result<(), StorageError> {
    let of = quotations::id.eq(quotation.id);
    let rows = Change {
        table: "quotations",
        set: quotation.as_changeset(),
        of,
    }
    .execute(conn)?;
    changed(rows, "quotation", quotation.id)
}

pub fn quotation(conn: &mut Conn, id: i64) -> Result<Option<Quotation>, StorageError> {
    Ok(quotations::table
        .find(id)
        .select(Quotation::as_select())
        .first(conn)
        .optional()?)
}

pub fn quotations(
    conn: &mut Conn,
    state: Option<QuotationState>,
    garment: Option<i64>,
    before: i64,
    limit: i64,
) -> Result<Vec<Quotation>, StorageError> {
    let mut page = quotations::table
        .filter(quotations::id.lt(before))
        .into_boxed();
    if let Some(state) = state {
        page = page.filter(quotations::state.eq(state.word()));
    }
    if let Some(garment) = garment {
        page = page.filter(quotations::garment_id.eq(garment));
    }
    let newest = quotations::id.desc();
    Ok(page
        .order(newest)
        .limit(limit)
        .select(Quotation::as_select())
        .load(conn)?)
}

/// What supplements a quotation, oldest first.
pub fn supplements(conn: &mut Conn, quotation: i64) -> Result<Vec<Quotation>, StorageError> {
    let of = quotations::table.filter(quotations::supplement_to.eq(quotation));
    Ok(of
        .order(quotations::id.asc())
        .select(Quotation::as_select())
        .load(conn)?)
}

pub fn insert_quotation_version(
    conn: &mut Conn,
    version: &QuotationVersion,
) -> Result<(), StorageError> {
    diesel::insert_into(quotation_versions::table)
        .values(version)
        .execute(conn)?;
    Ok(())
}

/// Versions of a quotation, oldest first.
pub fn quotation_versions(
    conn: &mut Conn,
    quotation: i64,
) -> Result<Vec<QuotationVersion>, StorageError> {
    let of = quotation_versions::table.filter(quotation_versions::quotation_id.eq(quotation));
    let oldest = quotation_versions::version.asc();
    Ok(of
        .order(oldest)
        .select(QuotationVersion::as_select())
        .load(conn)?)
}

pub fn quotation_version(
    conn: &mut Conn,
    quotation: i64,
    version: i64,
) -> Result<Option<QuotationVersion>, StorageError> {
    let found = quotation_versions::table.find((quotation, version));
    Ok(found
        .select(QuotationVersion::as_select())
        .first(conn)
        .optional()?)
}

pub fn insert_payment(conn: &mut Conn, payment: &Payment) -> Result<(), StorageError> {
    diesel::insert_into(payments::table)
        .values(payment)
        .execute(conn)?;
    Ok(())
}

/// Payments that stand, in the order they were logged.
pub fn payments(conn: &mut Conn, quotation: i64) -> Result<Vec<Payment>, StorageError> {
    let of = payments::table
        .filter(payments::quotation_id.eq(quotation))
        .filter(payments::undone_by.is_null());
    Ok(of
        .order(payments::booking_id.asc())
        .select(Payment::as_select())
        .load(conn)?)
}
