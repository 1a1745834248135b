//! What was agreed raw and is washed since: the same cloth, so its shorter length is no change of the plan.

use super::super::washed::{length_after, prepared_since};
use crate::{
    desk::{Desk, failure::Done},
    money::costs::extent_text,
};
use ellwand_domain::{
    code::BookingCode,
    costing::{CostItem, Extent},
    pricing::{PlanLine, PriceGroup},
};
use ellwand_storage::{StoredPiece, Tx};

/// Restates the agreed lengths of lots that were washed or steamed since `booking`, so that they stand beside those of the plan
/// now. What differs by less than a cutting step is the same, since each length is rounded up to one; where several washes came
/// between, the length is not known.
pub(super) fn restate(
    desk: &mut Desk<'_>,
    agreed: &mut [PlanLine],
    now: &[PlanLine],
    booking: i64,
    notes: &mut Vec<String>,
) -> Done<()> {
    let step = desk.context.rule()?.step.get();
    for line in agreed {
        let item = &line.item;
        let Some(Extent::Length(length)) = item.extent else {
            continue;
        };
        if item.group != PriceGroup::Materials {
            continue;
        }
        let prepared = prepared_since(desk, &item.lots, booking)?;
        let planned = length_of(item, now);
        let shortened = match prepared.as_slice() {
            [] => continue,
            [one] => match length_after(desk, one, length)? {
                Some((piece, after)) if is_alone(desk, &item.lots, piece)? => Some(after),
                // Of what is raw still as much is asked for.
                _ if planned == Some(length) => continue,
                _ => None,
            },
            _ => None,
        };
        line.item.extent = match (shortened, planned) {
            (Some(after), Some(planned)) if after.abs_diff(planned) < step.unsigned_abs() => {
                Some(planned)
            }
            (after, _) => after,
        }
        .map(Extent::Length);
        if let (Some(after), [one]) = (line.item.extent, prepared.as_slice()) {
            let text = extent_text(desk.context, Some(after))?.unwrap_or_default();
            let (name, code) = (&line.item.name, BookingCode::new(one.id));
            notes.push(format!(
                "{name} was agreed raw; after {code} that is {text}, and only what is planned beyond it is a change"
            ));
        }
    }
    Ok(())
}

/// True where no other piece of these lots is left.
fn is_alone(tx: &mut Tx<'_>, lots: &[i64], piece: i64) -> Done<bool> {
    for lot in lots {
        let left = tx.pieces_of_lot(*lot)?;
        let is_other = |stored: &StoredPiece| stored.piece.id != piece;
        if left
            .iter()
            .any(|stored| is_other(stored) && !stored.piece.quantity.is_zero())
        {
            return Ok(false);
        }
    }
    Ok(true)
}

/// The planned length of what an agreed line is of, where all of it is known.
fn length_of(agreed: &CostItem, now: &[PlanLine]) -> Option<i64> {
    let own = now.iter().filter(|line| line.item.is_same(agreed));
    own.map(|line| match line.item.extent {
        Some(Extent::Length(length)) => Some(length),
        _ => None,
    })
    .sum()
}
