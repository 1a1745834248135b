//! What lay on the shelf and what it was worth, now or at the end of an earlier day: what the book holds, less what was booked for later days.

use crate::{
    desk::failure::Done,
    ledger::month::{fault, net, stock_at_end_of},
};
use chrono::NaiveDate;
use ellwand_contract::{Micro, shelf::KindTotal};
use ellwand_domain::{
    layer::{Left, worth_beside},
    ledger::AccountKind,
    month::Moved,
    quantity::Millionths,
    setting::{Kind, TrimUnit},
};
use ellwand_storage::{PooledPiece, ShelfRow, Tx};
use std::collections::{BTreeMap, HashMap};

/// A piece of the shelf.
#[derive(Debug, Clone, Copy)]
pub(super) struct Standing {
    /// Micrometres or a number.
    pub(super) quantity: i64,
    pub(super) value: Millionths,
}

impl Standing {
    /// True for a piece of which nothing was left, in quantity and value.
    pub(super) const fn is_nothing(&self) -> bool {
        self.quantity == 0 && self.value.is_zero()
    }
}

/// Each of these pieces at the end of a day, or now.
pub(super) fn of_rows(
    tx: &mut Tx<'_>,
    rows: &[ShelfRow],
    day: Option<NaiveDate>,
) -> Done<HashMap<i64, Standing>> {
    let ids: Vec<i64> = rows.iter().map(|row| row.id).collect();
    let later = Later::read(tx, day, AccountKind::Piece, &ids)?;
    let mut standing = HashMap::with_capacity(rows.len());
    let mut pooled: Vec<i64> = Vec::new();
    for row in rows {
        if !row.kind.is_rectangle() && row.owner_id.is_none() {
            pooled.push(row.material_id);
        }
        standing.insert(row.id, later.before(row.id, (row.quantity, row.value))?);
    }
    for (id, value) in worth_of_pooled(tx, pooled, day)? {
        if let Some(piece) = standing.get_mut(&id) {
            piece.value = value;
        }
    }
    Ok(standing)
}

/// What moved after a day, by the piece or layer that it moved at; without a day nothing.
struct Later(HashMap<i64, ellwand_storage::Change>);

impl Later {
    fn read(tx: &mut Tx<'_>, day: Option<NaiveDate>, kind: AccountKind, ids: &[i64]) -> Done<Self> {
        Ok(Self(match day {
            Some(day) => tx.changed_after(day, kind, ids)?,
            None => HashMap::new(),
        }))
    }

    /// What a piece or layer held, of what it holds now.
    fn before(&self, id: i64, (quantity, value): (i64, i64)) -> Done<Standing> {
        let later = self.0.get(&id).copied().unwrap_or_default();
        let later = Moved {
            quantity: later.quantity,
            value: later.value,
        };
        let before = Moved { quantity, value }.before(later);
        let Moved { quantity, value } = before.map_err(fault)?;
        Ok(Standing {
            quantity,
            value: Millionths::new(value)?,
        })
    }
}

/// What each of the workshop's own pieces of these materials was worth, whose value lies in layers.
fn worth_of_pooled(
    tx: &mut Tx<'_>,
    mut materials: Vec<i64>,
    day: Option<NaiveDate>,
) -> Done<Vec<(i64, Millionths)>> {
    materials.sort_unstable();
    materials.dedup();
    if materials.is_empty() {
        return Ok(Vec::new());
    }
    let mut pieces: BTreeMap<i64, Vec<PooledPiece>> = BTreeMap::new();
    for piece in tx.pooled_pieces(&materials, day)? {
        pieces.entry(piece.material).or_default().push(piece);
    }
    let mut worth = Vec::new();
    for (material, pieces) in pieces {
        let ids: Vec<i64> = pieces.iter().map(|piece| piece.piece).collect();
        let later = Later::read(tx, day, AccountKind::Piece, &ids)?;
        let held = pieces.iter().map(|piece| {
            let standing = later.before(piece.piece, (piece.quantity, 0))?;
            Ok(standing.quantity)
        });
        let held = held.collect::<Done<Vec<_>>>()?;
        let layers = layers(tx, material, day)?;
        worth.extend(ids.into_iter().zip(worth_beside(&layers, &held)?));
    }
    Ok(worth)
}

fn layers(tx: &mut Tx<'_>, material: i64, day: Option<NaiveDate>) -> Done<Vec<Left>> {
    let rows = tx.layers(material)?;
    let ids: Vec<i64> = rows.iter().map(|row| row.id).collect();
    let later = Later::read(tx, day, AccountKind::Layer, &ids)?;
    let left = rows.iter().map(|row| {
        let standing = later.before(row.id, (row.quantity, row.value))?;
        Ok(Left {
            quantity: standing.quantity,
            value: standing.value,
        })
    });
    left.collect()
}

/// What kinds are worth together; nothing where there are none.
pub(super) fn together(totals: &[KindTotal]) -> Done<Option<Micro>> {
    let values = totals.iter().filter_map(|of| of.value.map(|value| value.0));
    let sum = Millionths::sum(values)?;
    Ok((!totals.is_empty()).then_some(Micro(sum)))
}

/// What lies on the shelf of each kind, or of one, or what lay there at the end of a day.
pub(super) fn totals(
    tx: &mut Tx<'_>,
    kind: Option<Kind>,
    day: Option<NaiveDate>,
) -> Done<Vec<KindTotal>> {
    let total = |(kind, unit, quantity, value, unpriced)| -> Done<KindTotal> {
        Ok(KindTotal {
            kind,
            unit,
            on_hand: net(unit, quantity),
            unpriced,
            value: Some(Micro(Millionths::new(value)?)),
        })
    };
    let totals: Vec<_> = match day {
        None => {
            let kinds = tx.kinds_on_shelf()?.into_iter();
            let sums = kinds.map(|of| {
                let unit = TrimUnit::of(of.counted);
                (of.kind, unit, of.quantity, of.value, Some(of.unpriced))
            });
            sums.collect()
        }
        Some(day) => {
            let kinds = stock_at_end_of(tx, day)?.into_iter();
            let left = kinds.filter(|of| !of.at_end.is_zero());
            let sums = left.map(|of| (of.kind, of.unit, of.at_end.quantity, of.at_end.value, None));
            sums.collect()
        }
    };
    let wanted = totals.into_iter();
    let wanted = wanted.filter(|of| kind.is_none_or(|kind| kind == of.0));
    wanted.map(total).collect()
}
