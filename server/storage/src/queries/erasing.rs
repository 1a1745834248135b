//! Erasing a customer's name: what still needs it, and which records of requests tell it.

use super::Conn;
use crate::error::StorageError;
use crate::schema::{garments, lots, pieces, quotations, requests, traces};
use chrono::NaiveDateTime;
use diesel::prelude::*;
use ellwand_domain::setting::{Facet, GarmentState, QuotationState};
use std::collections::BTreeSet;

/// Garments of a customer that are not delivered or cancelled, by code.
pub fn open_garments_of(conn: &mut Conn, customer: i64) -> Result<Vec<i64>, StorageError> {
    let over = [GarmentState::Delivered, GarmentState::Cancelled];
    let open = garments::table
        .filter(garments::customer_id.eq(customer))
        .filter(garments::state.ne_all(over));
    Ok(open.order(garments::id).select(garments::id).load(conn)?)
}

/// Lots of a customer with something on the shelf, by code.
pub fn shelved_lots_of(conn: &mut Conn, customer: i64) -> Result<Vec<i64>, StorageError> {
    let shelved = lots::table
        .inner_join(pieces::table)
        .filter(lots::owner_id.eq(customer));
    let some = shelved
        .filter(pieces::quantity.gt(0))
        .select(lots::id)
        .distinct();
    Ok(some.order(lots::id).load(conn)?)
}

/// Quotations for a customer that are not closed, by code.
pub fn live_quotations_of(conn: &mut Conn, customer: i64) -> Result<Vec<i64>, StorageError> {
    let of = quotations::table.filter(quotations::customer_id.eq(customer));
    Ok(of
        .filter(quotations::state.ne(QuotationState::Closed))
        .order(quotations::id)
        .select(quotations::id)
        .load(conn)?)
}

/// Empties what bookings wrote over of a facet of a record: nothing of it is kept.
pub fn blank_traces(conn: &mut Conn, facet: Facet, subject: i64) -> Result<(), StorageError> {
    let of = traces::table
        .filter(traces::facet.eq(facet))
        .filter(traces::subject_id.eq(subject))
        .filter(traces::was.is_not_null());
    diesel::update(of)
        .set(traces::was.eq("\"\""))
        .execute(conn)?;
    Ok(())
}

/// Empties the records of requests that hold one of these texts, each a field of JSON with the begin of its value, whatever its
/// capitals and spacing; how many.
pub fn erase_requests(
    conn: &mut Conn,
    texts: &[String],
    at: NaiveDateTime,
) -> Result<usize, StorageError> {
    // A name is found in any capitals and spacing, so nothing but the fields is asked of the database.
    let plain = |text: &str| {
        let words: Vec<&str> = text.split_whitespace().collect();
        words.join(" ").to_lowercase()
    };
    let texts: Vec<String> = texts.iter().map(|text| plain(text)).collect();
    let fields = texts.iter().filter_map(|text| text.split(':').next());
    let mut erased = 0_usize;
    for field in fields.collect::<BTreeSet<_>>() {
        let like = format!("%{}:%", field.replace('_', "!_"));
        let tells = requests::content
            .like(like.clone())
            .escape('!')
            .or(requests::answer.like(like).escape('!'));
        let rows = requests::table
            .filter(requests::erased_at.is_null())
            .filter(tells);
        let columns = (requests::id, requests::content, requests::answer);
        let found: Vec<(String, String, String)> = rows.select(columns).load(conn)?;
        for (id, content, answer) in found {
            let (content, answer) = (plain(&content), plain(&answer));
            let tells = |text: &String| content.contains(text) || answer.contains(text);
            if texts.iter().any(tells) {
                let empty = (
                    requests::content.eq(""),
                    requests::answer.eq(""),
                    requests::erased_at.eq(at),
                );
                let row = diesel::update(requests::table.find(id)).set(empty);
                erased = erased.saturating_add(row.execute(conn)?);
            }
        }
    }
    Ok(erased)
}
