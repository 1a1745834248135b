//! Sums over the ledger, a batch of records at a time, for the audit.

use super::Conn;
use crate::audit::{Balance, CounterSum, LayerStep, PurchaseSum};
use crate::error::StorageError;
use crate::movement::MovementRow;
use crate::records::{Layer, PieceRow, StretchRow};
use crate::schema::{
    bookings, counters, garments, layers, lots, movements, pieces, purchase_lines, purchases,
    reservations, stretches,
};
use diesel::{
    dsl::{count_star, sql},
    prelude::*,
    sql_types::{BigInt, Bool},
};
use ellwand_domain::layer::Step;
use ellwand_domain::ledger::AccountKind;
use ellwand_domain::setting::BookingKind;
use std::collections::HashMap;

/// Ledger's sums of places of a kind with ids in `first..=last`: (id, quantity, value).
fn ledger_sums(
    conn: &mut Conn,
    kind: AccountKind,
    first: i64,
    last: i64,
) -> Result<HashMap<i64, (i64, i64)>, StorageError> {
    let arrived: Vec<(i64, i64, i64)> = movements::table
        .filter(movements::to_kind.eq(kind))
        .filter(movements::to_id.between(first, last))
        .group_by(movements::to_id)
        .select((
            movements::to_id,
            sql::<BigInt>("CAST(SUM(quantity_in) AS BIGINT)"),
            sql::<BigInt>("CAST(SUM(value) AS BIGINT)"),
        ))
        .load(conn)?;
    let left: Vec<(i64, i64, i64)> = movements::table
        .filter(movements::from_kind.eq(kind))
        .filter(movements::from_id.between(first, last))
        .group_by(movements::from_id)
        .select((
            movements::from_id,
            sql::<BigInt>("CAST(SUM(quantity_out) AS BIGINT)"),
            sql::<BigInt>("CAST(SUM(value) AS BIGINT)"),
        ))
        .load(conn)?;
    let mut sums: HashMap<i64, (i64, i64)> = HashMap::new();
    for (id, quantity, value) in arrived {
        let sum = sums.entry(id).or_default();
        *sum = (sum.0 + quantity, sum.1 + value);
    }
    for (id, quantity, value) in left {
        let sum = sums.entry(id).or_default();
        *sum = (sum.0 - quantity, sum.1 - value);
    }
    Ok(sums)
}

/// Pieces after `after`, each with what the ledger says it holds.
pub fn audit_pieces(conn: &mut Conn, after: i64, limit: i64) -> Result<Vec<Balance>, StorageError> {
    let rows: Vec<PieceRow> = pieces::table
        .filter(pieces::id.gt(after))
        .order(pieces::id)
        .limit(limit)
        .select(PieceRow::as_select())
        .load(conn)?;
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        return Ok(Vec::new());
    };
    let sums = ledger_sums(conn, AccountKind::Piece, first.id, last.id)?;
    Ok(rows
        .iter()
        .map(|row| {
            let (quantity, value) = sums.get(&row.id).copied().unwrap_or_default();
            Balance {
                id: row.id,
                lot: row.lot_id,
                number: row.number,
                kept: (row.quantity, row.value),
                ledger: (quantity, value),
                held: row.held,
            }
        })
        .collect())
}

/// Layers after `after`, each with what the ledger says it holds.
pub fn audit_layers(conn: &mut Conn, after: i64, limit: i64) -> Result<Vec<Balance>, StorageError> {
    let rows: Vec<Layer> = layers::table
        .filter(layers::id.gt(after))
        .order(layers::id)
        .limit(limit)
        .select(Layer::as_select())
        .load(conn)?;
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        return Ok(Vec::new());
    };
    let sums = ledger_sums(conn, AccountKind::Layer, first.id, last.id)?;
    Ok(rows
        .iter()
        .map(|row| {
            let (quantity, value) = sums.get(&row.id).copied().unwrap_or_default();
            Balance {
                id: row.id,
                lot: row.lot_id.unwrap_or(0),
                number: 0,
                kept: (row.quantity, row.value),
                ledger: (quantity, value),
                held: 0,
            }
        })
        .collect())
}

/// Movements out of layers (or into them), in the order of the layers and then of the ledger, after a layer and a sequence.
pub fn audit_layer_steps(
    conn: &mut Conn,
    out: bool,
    after: (i64, i64),
    limit: i64,
) -> Result<Vec<LayerStep>, StorageError> {
    type Row = (MovementRow, BookingKind, Option<i64>);
    let columns = (MovementRow::as_select(), bookings::kind, bookings::undoes);
    // The rest of the layer first, then those that follow: two ranges of one index, where an OR would be none.
    let left = |found: &[Row]| limit - i64::try_from(found.len()).unwrap_or(limit);
    let mut rows: Vec<Row>;
    if out {
        let at = || {
            let of = movements::from_kind.eq(AccountKind::Layer);
            movements::table
                .inner_join(bookings::table)
                .filter(of)
                .select(columns)
        };
        let same = at()
            .filter(movements::from_id.eq(after.0))
            .filter(movements::sequence.gt(after.1));
        rows = same.order(movements::sequence).limit(limit).load(conn)?;
        let more = at()
            .filter(movements::from_id.gt(after.0))
            .limit(left(&rows));
        rows.extend(
            more.order((movements::from_id, movements::sequence))
                .load::<Row>(conn)?,
        );
    } else {
        let at = || {
            let of = movements::to_kind.eq(AccountKind::Layer);
            movements::table
                .inner_join(bookings::table)
                .filter(of)
                .select(columns)
        };
        let same = at()
            .filter(movements::to_id.eq(after.0))
            .filter(movements::sequence.gt(after.1));
        rows = same.order(movements::sequence).limit(limit).load(conn)?;
        let more = at().filter(movements::to_id.gt(after.0)).limit(left(&rows));
        rows.extend(
            more.order((movements::to_id, movements::sequence))
                .load::<Row>(conn)?,
        );
    }
    let ids: Vec<i64> = rows.iter().map(|(row, ..)| row.booking_id).collect();
    let undone: HashMap<i64, i64> = super::bookings::undone_among(conn, &ids)?
        .into_iter()
        .collect();
    let step = |(row, kind, undoes): Row| -> Result<LayerStep, StorageError> {
        let stored = row.into_domain()?;
        let place = if out {
            stored.movement.from
        } else {
            stored.movement.to
        };
        Ok(LayerStep {
            layer: place.id,
            sequence: stored.sequence,
            undoes,
            step: Step {
                booking: stored.booking,
                cut: kind.takes(),
                undoes: undoes.is_some(),
                undone_by: undone.get(&stored.booking).copied(),
                movement: stored.movement,
            },
        })
    };
    rows.into_iter().map(step).collect()
}

/// Counters of codes, each with the highest code in use.
pub fn audit_counters(conn: &mut Conn) -> Result<Vec<CounterSum>, StorageError> {
    let kinds = [
        ("booking", "SELECT MAX(id) FROM bookings"),
        ("material", "SELECT MAX(id) FROM materials"),
        ("lot", "SELECT MAX(id) FROM lots"),
        ("piece", "SELECT MAX(id) FROM pieces"),
        ("layer", "SELECT MAX(id) FROM layers"),
        ("purchase", "SELECT MAX(id) FROM purchases"),
        ("supplier", "SELECT MAX(id) FROM suppliers"),
        ("customer", "SELECT MAX(id) FROM customers"),
        ("garment", "SELECT MAX(id) FROM garments"),
        ("need", "SELECT MAX(id) FROM needs"),
        ("reservation", "SELECT MAX(id) FROM reservations"),
        ("lay", "SELECT MAX(id) FROM lays"),
        ("work", "SELECT MAX(id) FROM work_entries"),
        ("wash_test", "SELECT MAX(id) FROM wash_tests"),
        ("quotation", "SELECT MAX(id) FROM quotations"),
        ("token", "SELECT MAX(id) FROM tokens"),
        ("person", "SELECT MAX(id) FROM people"),
        (
            "rate",
            "SELECT MAX(id) FROM (SELECT id FROM pay_rates UNION ALL SELECT id FROM pay_rates_by_kind \
             UNION ALL SELECT id FROM overhead_rates UNION ALL SELECT id FROM yearly_figures \
             UNION ALL SELECT id FROM overhead_spent UNION ALL SELECT id FROM tax_rates \
             UNION ALL SELECT id FROM tax_reclaims) AS rates",
        ),
    ];
    let next: HashMap<String, i64> = counters::table
        .load::<(String, i64)>(conn)?
        .into_iter()
        .collect();
    let mut sums = Vec::new();
    for (kind, highest) in kinds {
        let highest: Option<i64> = diesel::select(sql::<diesel::sql_types::Nullable<BigInt>>(
            &format!("({highest})"),
        ))
        .first(conn)?;
        let next = next.get(kind).copied();
        sums.push(CounterSum {
            kind: kind.to_owned(),
            next,
            highest: highest.unwrap_or(0),
        });
    }
    Ok(sums)
}

/// Lots whose next piece would get a number that is in use: at most 20.
pub fn audit_piece_numbers(conn: &mut Conn) -> Result<Vec<i64>, StorageError> {
    let taken = "EXISTS (SELECT 1 FROM pieces WHERE pieces.lot_id = lots.id AND pieces.number >= lots.next_piece)";
    Ok(lots::table
        .filter(sql::<Bool>(taken))
        .order(lots::id)
        .limit(20)
        .select(lots::id)
        .load(conn)?)
}

/// Stretches of pieces with ids in `first..=last`.
pub fn audit_stretches(
    conn: &mut Conn,
    first: i64,
    last: i64,
) -> Result<Vec<(i64, i64, i64, i64)>, StorageError> {
    Ok(stretches::table
        .filter(stretches::piece_id.between(first, last))
        .order((stretches::piece_id, stretches::position))
        .select(StretchRow::as_select())
        .load::<StretchRow>(conn)?
        .into_iter()
        .map(|row| (row.piece_id, row.position, row.length, row.held))
        .collect())
}

/// Active promises on pieces with ids in `first..=last`: (piece, stretch, held).
pub fn audit_promises(
    conn: &mut Conn,
    first: i64,
    last: i64,
) -> Result<Vec<(i64, i64, i64)>, StorageError> {
    Ok(reservations::table
        .filter(sql::<Bool>("reservations.state = 'active'"))
        .filter(reservations::piece_id.between(first, last))
        .select((
            reservations::piece_id,
            reservations::stretch,
            reservations::held,
        ))
        .load(conn)?)
}

/// Purchases after `after`, each with its lines' and lots' sums and what the ledger received from it.
pub fn audit_purchases(
    conn: &mut Conn,
    after: i64,
    limit: i64,
) -> Result<Vec<PurchaseSum>, StorageError> {
    let rows: Vec<(i64, i64)> = purchases::table
        .filter(purchases::id.gt(after))
        .order(purchases::id)
        .limit(limit)
        .select((purchases::id, purchases::home_value))
        .load(conn)?;
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        return Ok(Vec::new());
    };
    let (first, last) = (first.0, last.0);
    let lines: HashMap<i64, i64> = purchase_lines::table
        .filter(purchase_lines::purchase_id.between(first, last))
        .group_by(purchase_lines::purchase_id)
        .select((
            purchase_lines::purchase_id,
            sql::<BigInt>("CAST(SUM(landed) AS BIGINT)"),
        ))
        .load::<(i64, i64)>(conn)?
        .into_iter()
        .collect();
    let lots: HashMap<i64, i64> = lots::table
        .filter(lots::purchase_id.between(first, last))
        .group_by(lots::purchase_id)
        .select((
            lots::purchase_id,
            sql::<BigInt>("CAST(SUM(landed) AS BIGINT)"),
        ))
        .load::<(i64, i64)>(conn)?
        .into_iter()
        .collect();
    let received = ledger_sums(conn, AccountKind::Supplier, first, last)?;
    let opening = ledger_sums(conn, AccountKind::Opening, first, last)?;
    let came = |id: &i64| {
        let of = |sums: &HashMap<i64, (i64, i64)>| sums.get(id).copied().unwrap_or_default().1;
        of(&received) + of(&opening)
    };
    Ok(rows
        .into_iter()
        .map(|(id, home)| PurchaseSum {
            id,
            home,
            lines: lines.get(&id).copied().unwrap_or(0),
            lots: lots.get(&id).copied().unwrap_or(0),
            ledger: -came(&id),
        })
        .collect())
}

/// Promises in the place of one of another need, and cuts drawn from a promise of another need: at most 20.
pub fn audit_lines(conn: &mut Conn) -> Result<Vec<i64>, StorageError> {
    let stray = "EXISTS (SELECT 1 FROM reservations AS first WHERE first.id = reservations.first_id \
                 AND (first.need_id <> reservations.need_id OR first.first_id IS NOT NULL)) \
                 OR EXISTS (SELECT 1 FROM cuts WHERE cuts.reservation_id = reservations.id \
                 AND cuts.need_id <> reservations.need_id)";
    Ok(reservations::table
        .filter(sql::<Bool>(stray))
        .order(reservations::id)
        .limit(20)
        .select(reservations::id)
        .load(conn)?)
}

/// Numbers of bookings and movements.
pub fn audit_counts(conn: &mut Conn) -> Result<(i64, i64), StorageError> {
    let bookings = bookings::table.select(count_star()).first(conn)?;
    let movements = movements::table.select(count_star()).first(conn)?;
    Ok((bookings, movements))
}

/// Garments that more value left than reached, with the difference.
pub fn audit_negative_garments(conn: &mut Conn) -> Result<Vec<(i64, i64)>, StorageError> {
    let Some(last) = garments::table
        .select(diesel::dsl::max(garments::id))
        .first::<Option<i64>>(conn)?
    else {
        return Ok(Vec::new());
    };
    let mut negative = Vec::new();
    let mut first = 1;
    while first <= last {
        let until = first + 499;
        for (garment, (_, value)) in ledger_sums(conn, AccountKind::Garment, first, until)? {
            if value < 0 {
                negative.push((garment, value));
            }
        }
        first = until + 1;
    }
    negative.sort_unstable();
    Ok(negative)
}

/// Value that is neither outside nor on the shelf, by the ledger.
pub fn audit_value_elsewhere(conn: &mut Conn) -> Result<i64, StorageError> {
    let kept = [
        AccountKind::Supplier,
        AccountKind::Opening,
        AccountKind::Piece,
        AccountKind::Layer,
    ];
    let sum = || sql::<BigInt>("CAST(COALESCE(SUM(value), 0) AS BIGINT)");
    let arrived: i64 = movements::table
        .filter(movements::to_kind.ne_all(&kept))
        .select(sum())
        .first(conn)?;
    let left: i64 = movements::table
        .filter(movements::from_kind.ne_all(&kept))
        .select(sum())
        .first(conn)?;
    Ok(arrived - left)
}

/// Places that no record stands behind: movements of pieces, layers or garments that do not exist.
pub fn audit_orphans(conn: &mut Conn) -> Result<Vec<(String, i64)>, StorageError> {
    let mut orphans = Vec::new();
    for (kind, table) in [
        ("piece", "pieces"),
        ("layer", "layers"),
        ("garment", "garments"),
        ("supplier", "purchases"),
    ] {
        for (column, id) in [("from_kind", "from_id"), ("to_kind", "to_id")] {
            let stray = format!(
                "movements.{column} = '{kind}' AND NOT EXISTS \
                 (SELECT 1 FROM {table} WHERE {table}.id = movements.{id})"
            );
            let found: Vec<i64> = movements::table
                .filter(sql::<Bool>(&stray))
                .order(movements::sequence)
                .limit(20)
                .select(movements::sequence)
                .load(conn)?;
            orphans.extend(
                found
                    .into_iter()
                    .map(|sequence| (kind.to_owned(), sequence)),
            );
        }
    }
    Ok(orphans)
}
