//! The shelf's list: one page, found by seeking.

use super::Conn;
use crate::condition::{ActivePromise, BeyondPiece, MassNow, OnShelf, UsableWidth};
use crate::error::StorageError;
use crate::schema::{layers, lot_fibres, lots, materials, pieces, reservations};
use crate::shelf::{KindOnShelf, ShelfFilter, ShelfRow};
use diesel::{
    dsl::{exists, sql},
    prelude::*,
    sql_types::BigInt,
};
use ellwand_domain::setting::Kind;

/// Contains `text`, its wildcards taken literally. The columns it is held against are in lower case by the same rule:
/// the databases' own `lower` knows no more than ASCII (SQLite) or what the locale says (PostgreSQL).
fn pattern(text: &str) -> String {
    let escaped = text
        .to_lowercase()
        .replace('\\', "\\\\")
        .replace('%', "\\%")
        .replace('_', "\\_");
    format!("%{escaped}%")
}

pub fn shelf(conn: &mut Conn, filter: &ShelfFilter) -> Result<Vec<ShelfRow>, StorageError> {
    let mut query = pieces::table
        .inner_join(lots::table.inner_join(materials::table))
        .filter(OnShelf)
        .order((pieces::lot_id, pieces::number))
        .limit(filter.limit)
        .select(ShelfRow::as_select())
        .into_boxed();
    if let Some((lot, number)) = filter.after {
        query = query.filter(BeyondPiece { lot, number });
    }
    if let Some(kind) = filter.kind {
        query = query.filter(materials::kind.eq(kind));
    }
    if let Some(fibre) = &filter.fibre {
        let has = lot_fibres::table.find((lots::id, fibre.to_lowercase()));
        query = query.filter(exists(has));
    }
    if let Some(name) = &filter.name {
        query = query.filter(materials::name_search.like(pattern(name)).escape('\\'));
    }
    if let Some(colour) = &filter.colour {
        query = query.filter(lots::colour_search.like(pattern(colour)).escape('\\'));
    }
    if let Some(place) = &filter.place {
        query = query.filter(pieces::place.eq(place));
    }
    if let Some(least) = filter.mass_min {
        query = query.filter(MassNow.ge(least));
    }
    if let Some(most) = filter.mass_max {
        query = query.filter(MassNow.le(most));
    }
    if let Some(least) = filter.width_min {
        query = query.filter(UsableWidth.ge(least));
    }
    if let Some(least) = filter.free_min {
        let overdue = reservations::table
            .filter(ActivePromise)
            .filter(reservations::piece_id.eq(pieces::id))
            .filter(reservations::until.lt(filter.overdue));
        query = query.filter(pieces::longest_free.ge(least).or(exists(overdue)));
    }
    Ok(query.load(conn)?)
}

pub fn kinds_on_shelf(conn: &mut Conn) -> Result<Vec<KindOnShelf>, StorageError> {
    let on_pieces: Vec<(Kind, i64, i64, i64)> = pieces::table
        .inner_join(lots::table.inner_join(materials::table))
        .filter(OnShelf)
        .group_by(materials::kind)
        .select((
            materials::kind,
            sql::<BigInt>("COUNT(*)"),
            sql::<BigInt>("CAST(SUM(pieces.value) AS BIGINT)"),
            sql::<BigInt>("COUNT(CASE WHEN lots.unpriced THEN 1 END)"),
        ))
        .load(conn)?;
    let in_layers: Vec<(Kind, i64)> = layers::table
        .inner_join(materials::table)
        .group_by(materials::kind)
        .select((
            materials::kind,
            sql::<BigInt>("CAST(SUM(layers.value) AS BIGINT)"),
        ))
        .load(conn)?;
    let layered = |kind| {
        let sums = in_layers.iter().filter(|(other, _)| *other == kind);
        sums.fold(0_i64, |sum, (_, value)| sum.saturating_add(*value))
    };
    let mut kinds: Vec<KindOnShelf> = on_pieces
        .into_iter()
        .map(|(kind, pieces, value, unpriced)| KindOnShelf {
            kind,
            pieces,
            unpriced,
            value: value.saturating_add(layered(kind)),
        })
        .collect();
    kinds.sort_by_key(|of| of.kind);
    Ok(kinds)
}
