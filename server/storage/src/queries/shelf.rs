//! The shelf's list: one page, found by seeking.

use super::Conn;
use crate::condition::{ActivePromise, BeyondPiece, MassNow, OnShelf, UsableWidth};
use crate::error::StorageError;
use crate::schema::{
    bookings, layers, lot_fibres, lots, materials, movements, pieces, reservations,
};
use crate::shelf::{Change, KindOnShelf, PooledPiece, ShelfFilter, ShelfRow};
use chrono::NaiveDate;
use diesel::{
    dsl::{exists, sql},
    prelude::*,
    sql_types::BigInt,
};
use ellwand_domain::{ledger::AccountKind, setting::Kind};
use std::collections::HashMap;

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

/// Pieces from which something was taken after a day, so that they may be used up now and were not then.
macro_rules! taken_after {
    ($day:expr) => {
        movements::table
            .inner_join(bookings::table)
            .filter(movements::from_kind.eq(AccountKind::Piece))
            .filter(bookings::on_date.gt($day))
            .select(movements::from_id)
    };
}

pub fn shelf(conn: &mut Conn, filter: &ShelfFilter) -> Result<Vec<ShelfRow>, StorageError> {
    let mut query = pieces::table
        .inner_join(lots::table.inner_join(materials::table))
        .order((pieces::lot_id, pieces::number))
        .limit(filter.limit)
        .select(ShelfRow::as_select())
        .into_boxed();
    query = match filter.stood_on {
        None => query.filter(OnShelf),
        Some(day) => query.filter(
            pieces::quantity
                .gt(0)
                .or(pieces::id.eq_any(taken_after!(day))),
        ),
    };
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

/// Sums of a kind of material: number or length, whose pieces are of workshop and customers or whose layers are.
type KindSums = (Kind, bool, i64, i64, i64);

pub fn kinds_on_shelf(conn: &mut Conn) -> Result<Vec<KindOnShelf>, StorageError> {
    let of_kind = (materials::kind, materials::counted);
    let on_pieces: Vec<KindSums> = pieces::table
        .inner_join(lots::table.inner_join(materials::table))
        .filter(OnShelf)
        .group_by(of_kind)
        .select((
            materials::kind,
            materials::counted,
            sql::<BigInt>("CAST(SUM(CASE WHEN lots.owner_id IS NULL THEN pieces.quantity ELSE 0 END) AS BIGINT)"),
            sql::<BigInt>("CAST(SUM(pieces.value) AS BIGINT)"),
            sql::<BigInt>("COUNT(CASE WHEN lots.unpriced THEN 1 END)"),
        ))
        .load(conn)?;
    let in_layers: Vec<(Kind, bool, i64)> = layers::table
        .inner_join(materials::table)
        .group_by(of_kind)
        .select((
            materials::kind,
            materials::counted,
            sql::<BigInt>("CAST(SUM(layers.value) AS BIGINT)"),
        ))
        .load(conn)?;
    let layered = |kind: Kind, counted: bool| {
        let mut sums = in_layers.iter();
        let found = sums.find(|(other, unit, _)| (*other, *unit) == (kind, counted));
        found.map_or(0, |(.., value)| *value)
    };
    let mut kinds: Vec<KindOnShelf> = on_pieces
        .into_iter()
        .map(|(kind, counted, quantity, value, unpriced)| KindOnShelf {
            kind,
            counted,
            quantity,
            unpriced,
            value: value.saturating_add(layered(kind, counted)),
        })
        .collect();
    kinds.sort_by_key(|of| (of.kind, of.counted));
    Ok(kinds)
}

pub fn pooled_pieces(
    conn: &mut Conn,
    materials: &[i64],
    stood_on: Option<NaiveDate>,
) -> Result<Vec<PooledPiece>, StorageError> {
    let mut query = pieces::table
        .inner_join(lots::table)
        .filter(lots::material_id.eq_any(materials))
        .filter(lots::owner_id.is_null())
        .order((pieces::lot_id, pieces::number))
        .select((lots::material_id, pieces::id, pieces::quantity))
        .into_boxed();
    query = match stood_on {
        None => query.filter(OnShelf),
        Some(day) => query.filter(
            pieces::quantity
                .gt(0)
                .or(pieces::id.eq_any(taken_after!(day))),
        ),
    };
    Ok(query.load(conn)?)
}

/// Sums of what moved after a day at one end of the movements: id, quantity, value.
macro_rules! moved_after {
    ($conn:expr, $day:expr, $at:expr, ($kind:ident, $id:ident, $quantity:ident)) => {
        movements::table
            .inner_join(bookings::table)
            .filter(bookings::on_date.gt($day))
            .filter(movements::$kind.eq($at.0))
            .filter(movements::$id.eq_any($at.1))
            .group_by(movements::$id)
            .select((
                movements::$id,
                sql::<BigInt>(concat!(
                    "CAST(SUM(movements.",
                    stringify!($quantity),
                    ") AS BIGINT)"
                )),
                sql::<BigInt>("CAST(SUM(movements.value) AS BIGINT)"),
            ))
            .load::<(i64, i64, i64)>($conn)?
    };
}

pub fn changed_after(
    conn: &mut Conn,
    day: NaiveDate,
    kind: AccountKind,
    ids: &[i64],
) -> Result<HashMap<i64, Change>, StorageError> {
    let came = moved_after!(conn, day, (kind, ids), (to_kind, to_id, quantity_in));
    let left = moved_after!(conn, day, (kind, ids), (from_kind, from_id, quantity_out));
    let left = left
        .into_iter()
        .map(|(id, quantity, value)| (id, quantity.saturating_neg(), value.saturating_neg()));
    let mut changes: HashMap<i64, Change> = HashMap::new();
    for (id, quantity, value) in came.into_iter().chain(left) {
        let change = changes.entry(id).or_default();
        change.quantity = change.quantity.saturating_add(quantity);
        change.value = change.value.saturating_add(value);
    }
    Ok(changes)
}
