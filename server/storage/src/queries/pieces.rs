//! Pieces with their flaws, stretches and promises: read and written as one.

use super::{Conn, changed};
use crate::condition::{ActivePromise, Agreed, OnShelf};
use crate::error::StorageError;
use crate::kept::{Change, Write};
use crate::piece::{self, HoldRow, Near, StoredPiece};
use crate::records::{FlawRow, PieceRow, StretchRow};
use crate::schema::{flaws, garments, lots, materials, needs, pieces, reservations, stretches};
use diesel::{dsl::exists, prelude::*};
use ellwand_domain::setting::Kind;

fn holds_on(conn: &mut Conn, ids: &[i64]) -> Result<Vec<HoldRow>, StorageError> {
    let columns = (
        reservations::piece_id,
        reservations::id,
        reservations::stretch,
        reservations::held,
        reservations::promised,
        reservations::until,
        garments::due,
        Agreed,
    );
    let active = reservations::table
        .inner_join(needs::table.inner_join(garments::table))
        .filter(ActivePromise)
        .order(reservations::id)
        .select(columns);
    Ok(of_ids!(conn, ids, reservations::piece_id, active))
}

fn flaws_of(conn: &mut Conn, ids: &[i64]) -> Result<Vec<FlawRow>, StorageError> {
    let marked = flaws::table
        .order((flaws::piece_id, flaws::position))
        .select(FlawRow::as_select());
    Ok(of_ids!(conn, ids, flaws::piece_id, marked))
}

fn complete(conn: &mut Conn, rows: Vec<PieceRow>) -> Result<Vec<StoredPiece>, StorageError> {
    let held: Vec<i64> = rows
        .iter()
        .filter(|row| row.held > 0)
        .map(|row| row.id)
        .collect();
    let cloth: Vec<i64> = rows
        .iter()
        .filter(|row| row.full_width_um.is_some())
        .map(|row| row.id)
        .collect();
    let (holds, flaws) = (holds_on(conn, &held)?, flaws_of(conn, &cloth)?);
    piece::assemble(rows, &flaws, &holds)
}

pub fn piece(conn: &mut Conn, id: i64) -> Result<Option<StoredPiece>, StorageError> {
    let row = pieces::table
        .find(id)
        .select(PieceRow::as_select())
        .first(conn)
        .optional()?;
    Ok(complete(conn, row.into_iter().collect())?.pop())
}

pub fn piece_numbered(
    conn: &mut Conn,
    lot: i64,
    number: i64,
) -> Result<Option<StoredPiece>, StorageError> {
    let row = pieces::table
        .filter(pieces::lot_id.eq(lot))
        .filter(pieces::number.eq(number))
        .select(PieceRow::as_select())
        .first(conn)
        .optional()?;
    Ok(complete(conn, row.into_iter().collect())?.pop())
}

/// Pieces of a lot, used-up ones included.
pub fn pieces_of_lot(conn: &mut Conn, lot: i64) -> Result<Vec<StoredPiece>, StorageError> {
    let rows = pieces::table
        .filter(pieces::lot_id.eq(lot))
        .order(pieces::number)
        .select(PieceRow::as_select())
        .load(conn)?;
    complete(conn, rows)
}

/// Pieces of these ids.
pub fn pieces_among(conn: &mut Conn, ids: &[i64]) -> Result<Vec<StoredPiece>, StorageError> {
    let query = pieces::table.select(PieceRow::as_select());
    let rows = of_ids!(conn, ids, pieces::id, query);
    complete(conn, rows)
}

/// Pieces on the shelf of a kind of material and, when it is named, of this one material; by code, this many at most.
pub fn pieces_of_kind(
    conn: &mut Conn,
    kind: Kind,
    material: Option<i64>,
    limit: i64,
) -> Result<Vec<StoredPiece>, StorageError> {
    let of_kind = pieces::table
        .inner_join(lots::table.inner_join(materials::table))
        .filter(OnShelf)
        .filter(materials::kind.eq(kind))
        .limit(limit)
        .select(PieceRow::as_select());
    let mut rows: Vec<PieceRow> = match material {
        None => of_kind.load(conn)?,
        Some(material) => of_kind.filter(lots::material_id.eq(material)).load(conn)?,
    };
    // Not by the database: it would go through the whole shelf in that order to find a few of a rare kind.
    rows.sort_by_key(|row| (row.lot_id, row.number));
    complete(conn, rows)
}

/// Pieces on the shelf of a kind whose longest free stretch is nearest to a length: the next longer ones, or the next
/// shorter ones. Cloth of customers other than this one is left out.
pub fn pieces_near(conn: &mut Conn, near: &Near) -> Result<Vec<StoredPiece>, StorageError> {
    // Asked piece by piece in the order of the index: joined, the database would gather all of the kind and sort them.
    let lot = lots::table
        .inner_join(materials::table)
        .filter(lots::id.eq(pieces::lot_id))
        .filter(materials::kind.eq(near.kind))
        .filter(
            lots::owner_id
                .is_null()
                .or(lots::owner_id.eq(near.customer.unwrap_or(0))),
        );
    let of_kind = pieces::table
        .filter(OnShelf)
        .filter(exists(lot))
        .limit(near.limit)
        .select(PieceRow::as_select());
    let rows = if near.longer {
        of_kind
            .filter(pieces::longest_free.ge(near.free))
            .order((pieces::longest_free, pieces::id))
            .load(conn)?
    } else {
        let order = (pieces::longest_free.desc(), pieces::id.desc());
        of_kind
            .filter(pieces::longest_free.lt(near.free))
            .order(order)
            .load(conn)?
    };
    complete(conn, rows)
}

pub fn insert_piece(conn: &mut Conn, stored: &StoredPiece) -> Result<(), StorageError> {
    diesel::insert_into(pieces::table)
        .values(&stored.row()?)
        .execute(conn)?;
    save_inside(conn, stored)
}

pub fn update_piece(conn: &mut Conn, stored: &StoredPiece) -> Result<(), StorageError> {
    let row = stored.row()?;
    let of = pieces::id.eq(stored.piece.id);
    let rows = Change {
        table: "pieces",
        set: row.as_changeset(),
        of,
    }
    .execute(conn)?;
    changed(rows, "piece", stored.piece.id)?;
    save_inside(conn, stored)
}

/// Writes stretches and flaws, and where and how much its promises hold.
fn save_inside(conn: &mut Conn, stored: &StoredPiece) -> Result<(), StorageError> {
    let id = stored.piece.id;
    save_holds(conn, stored)?;
    let new: Vec<StretchRow> = stored.stretch_rows()?;
    let old: Vec<StretchRow> = stretches::table
        .filter(stretches::piece_id.eq(id))
        .order(stretches::position)
        .select(StretchRow::as_select())
        .load(conn)?;
    for row in new.iter().filter(|row| !old.contains(row)) {
        let insert = diesel::insert_into(stretches::table).values(row);
        Write {
            insert,
            key: "piece_id, position",
            set: row.as_changeset(),
        }
        .execute(conn)?;
    }
    if old.len() > new.len() {
        let kept = i64::try_from(new.len()).unwrap_or(i64::MAX);
        let gone = stretches::table
            .filter(stretches::piece_id.eq(id))
            .filter(stretches::position.ge(kept));
        diesel::delete(gone).execute(conn)?;
    }
    if stored.piece.rectangle.is_some() {
        let new = stored.flaw_rows();
        let old = flaws_of(conn, &[id])?;
        if new != old {
            diesel::delete(flaws::table.filter(flaws::piece_id.eq(id))).execute(conn)?;
            diesel::insert_into(flaws::table)
                .values(&new)
                .execute(conn)?;
        }
    }
    Ok(())
}

/// Promises whose rows are still to be written are left out.
fn save_holds(conn: &mut Conn, stored: &StoredPiece) -> Result<(), StorageError> {
    let holds = &stored.piece.holds;
    if holds.is_empty() {
        return Ok(());
    }
    let of = reservations::id.eq_any(holds.iter().map(|hold| hold.reservation));
    let old: Vec<(i64, i64, i64, i64)> = reservations::table
        .filter(of)
        .select((
            reservations::id,
            reservations::piece_id,
            reservations::stretch,
            reservations::held,
        ))
        .load(conn)?;
    for hold in holds {
        let stretch = i64::try_from(hold.stretch).unwrap_or(i64::MAX);
        let (piece, held) = (stored.piece.id, hold.quantity.get());
        let row = old.iter().find(|row| row.0 == hold.reservation);
        if row.is_some_and(|(_, on, at, was)| (*on, *at, *was) != (piece, stretch, held)) {
            diesel::update(reservations::table.find(hold.reservation))
                .set((
                    reservations::piece_id.eq(piece),
                    reservations::stretch.eq(stretch),
                    reservations::held.eq(held),
                ))
                .execute(conn)?;
        }
    }
    Ok(())
}
