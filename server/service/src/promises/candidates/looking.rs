//! Which pieces of the shelf are looked at: each of them, and where there are very many the nearest in length.

use super::Question;
use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::need::NeedRecord,
};
use ellwand_domain::{need::likely_raw, shrinkage::Preparation};
use ellwand_storage::{Near, StoredPiece, Tx};

/// Pieces of a kind that are looked at one by one.
const MOST: i64 = 1_000;
/// Of more than that, this many on each side of a length.
const NEAREST: i64 = 100;
/// What is looked at.
pub(super) struct Seen {
    pub(super) pieces: Vec<StoredPiece>,
    /// True when there are others of the kind.
    pub(super) nearest_only: bool,
    /// True when they were found by a length, which is not yet exact.
    pub(super) by_length: bool,
}

/// Pieces for a need: those of the lots it is bound to, else all of its kind or of its material, else the nearest in
/// length, on both sides of what one unit takes and of what all open units take.
pub(super) fn pieces(desk: &mut Desk<'_>, asked: &Question<'_>) -> Done<Seen> {
    let need = asked.need;
    let kind = need.row.kind;
    let all = desk.tx.pieces_of_kind(kind, None, MOST + 1)?;
    if within(&all) {
        return Ok(Seen {
            pieces: all,
            nearest_only: false,
            by_length: false,
        });
    }
    let some = |pieces| {
        Ok(Seen {
            pieces,
            nearest_only: true,
            by_length: false,
        })
    };
    let lots = match need.plan.conditions.lot {
        Some(lot) => vec![lot.get()],
        None => asked.bound.clone(),
    };
    if !lots.is_empty() {
        let mut pieces = Vec::new();
        for lot in lots {
            pieces.extend(
                desk.tx
                    .pieces_of_lot(lot)?
                    .into_iter()
                    .filter(|stored| !stored.piece.quantity.is_zero()),
            );
        }
        return some(pieces);
    }
    if let Some(material) = need.plan.conditions.material {
        let all = desk
            .tx
            .pieces_of_kind(kind, Some(material.get()), MOST + 1)?;
        if within(&all) {
            return some(all);
        }
    }
    let pieces = nearest(&mut desk.tx, asked, one_unit(desk.context, need)?)?;
    Ok(Seen {
        pieces,
        nearest_only: true,
        by_length: true,
    })
}

/// Pieces on both sides of what one unit takes and of what all open units take.
pub(super) fn nearest(tx: &mut Tx<'_>, asked: &Question<'_>, one: i64) -> Done<Vec<StoredPiece>> {
    let (kind, customer) = (asked.need.row.kind, asked.garment.customer_id);
    let near = |free: i64, longer: bool| Near {
        kind,
        customer,
        free,
        longer,
        limit: NEAREST,
    };
    let mut looks = vec![near(one, true), near(one, false)];
    if asked.open > 1 {
        let all = one.saturating_mul(asked.open);
        looks.extend([near(all, true), near(all, false)]);
    }
    let mut pieces = Vec::new();
    for look in looks {
        pieces.extend(tx.pieces_near(&look)?);
    }
    Ok(pieces)
}

fn within(pieces: &[StoredPiece]) -> bool {
    i64::try_from(pieces.len()).is_ok_and(|count| count <= MOST)
}

/// What one unit takes off a piece at the least: exactly where nothing shrinks, else about as much. It decides nothing, for shorter pieces
/// are looked at, too.
fn one_unit(context: &Context<'_>, need: &NeedRecord) -> Done<i64> {
    if let Some(per_unit) = need.per_unit {
        return Ok(per_unit.get());
    }
    let Some(demand) = &need.demand else {
        return Ok(0);
    };
    let Some(washed) = demand.shortest()? else {
        return Ok(0);
    };
    let cut = washed.plus(context.rule()?.end_allowance)?;
    Ok(match demand.preparation {
        Some(Preparation::None | Preparation::Raw) => cut.get(),
        _ => likely_raw(cut)?.get(),
    })
}
