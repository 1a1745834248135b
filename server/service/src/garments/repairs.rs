//! What a garment needs later: the lots that went into it, for repairs and repeats.

use super::need::{NeedRecord, size_of};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    promises::Filled,
    shelf::shelved::{LotRecord, Shelved, amount},
};
use ellwand_contract::{Problem, ProblemType, garments::UsedLot};
use ellwand_domain::{
    code::{LotCode, PieceCode},
    ledger::Quantity,
    setting::{CutReason, GarmentState},
};
use ellwand_storage::{CutEntry, Garment, StoredPiece};
use std::collections::BTreeMap;

/// The lots that a need was cut from, and what is left of each.
pub(super) fn used(
    desk: &mut Desk<'_>,
    cuts: &[CutEntry],
    need: &NeedRecord,
) -> Done<Vec<UsedLot>> {
    let mut of_lot: BTreeMap<i64, (i64, Vec<i64>)> = BTreeMap::new();
    for cut in cuts {
        if cut.need_id == need.row.id && cut.reason != CutReason::Swatch {
            let (quantity, pieces) = of_lot.entry(cut.lot_id).or_default();
            *quantity = quantity.saturating_add(cut.quantity);
            if !pieces.contains(&cut.piece_id) {
                pieces.push(cut.piece_id);
            }
        }
    }
    let mut used = Vec::with_capacity(of_lot.len());
    for (lot, (taken, from)) in of_lot {
        let record = LotRecord::load(desk, lot)?;
        let stored = desk.tx.pieces_of_lot(lot)?;
        let mut pieces: Vec<PieceCode> = stored
            .iter()
            .filter(|stored| from.contains(&stored.piece.id))
            .map(|stored| PieceCode {
                lot: LotCode::new(lot),
                number: stored.number,
            })
            .collect();
        pieces.sort_unstable_by_key(|piece| piece.number);
        let left = Left::of(stored, &record, desk.context)?;
        let supplier = match desk
            .tx
            .purchase(record.lot.purchase_id)?
            .and_then(|purchase| purchase.supplier_id)
        {
            Some(supplier) => desk.tx.supplier(supplier)?.map(|supplier| supplier.name),
            None => None,
        };
        let counted = record.is_counted();
        used.push(UsedLot {
            lot: record.code(),
            pieces,
            size: size_of(&record.sheet).map(|size| size.to_string()),
            colour: record.sheet.colour,
            name: record.material.name,
            dye_lot: record.lot.dye_lot,
            supplier,
            taken: amount(counted, Quantity::new(taken)?),
            left: amount(counted, left.left),
            free: amount(counted, left.free),
            strips: left.strips,
            longest_free: (!counted).then(|| amount(counted, left.longest)),
        });
    }
    Ok(used)
}

/// What is left of a lot.
struct Left {
    left: Quantity,
    free: Quantity,
    longest: Quantity,
    /// Pieces whose length is no length of the cloth.
    strips: i64,
}

impl Left {
    fn of(pieces: Vec<StoredPiece>, record: &LotRecord, context: &Context<'_>) -> Done<Self> {
        let mut all = Self {
            left: Quantity::ZERO,
            free: Quantity::ZERO,
            longest: Quantity::ZERO,
            strips: 0,
        };
        let rectangles = pieces.iter().filter_map(|stored| stored.piece.rectangle);
        let widest = rectangles
            .map(|rectangle| rectangle.full)
            .max()
            .unwrap_or_default();
        for stored in pieces {
            let rectangle = stored.piece.rectangle;
            if rectangle.is_some_and(|rectangle| rectangle.is_strip_beside(widest)) {
                all.strips += i64::from(!stored.piece.quantity.is_zero());
                continue;
            }
            let record = record.clone();
            let shelved = Shelved { stored, record }.current(context.today);
            let piece = &shelved.stored.piece;
            let internal = |error| {
                let detail = format!("{}: {error}", shelved.code());
                Problem::new(ProblemType::Internal, detail)
            };
            all.left = all.left.plus(piece.quantity)?;
            all.free = all.free.plus(piece.free().map_err(internal)?)?;
            all.longest = all.longest.max(piece.longest_free().map_err(internal)?);
        }
        Ok(all)
    }
}

/// Sets that are incomplete; of a garment that is made, the spares that went with it.
pub(super) fn notes(
    context: &Context<'_>,
    garment: &Garment,
    needs: &[(Filled, NeedRecord)],
) -> Done<Vec<String>> {
    let made = matches!(
        garment.state,
        GarmentState::Finished | GarmentState::Delivered
    );
    let mut notes = Vec::new();
    for (filled, need) in needs {
        if !made {
            notes.extend(filled.notes(context, need)?);
        } else if need.counted {
            let spares = need
                .plan
                .count()
                .1
                .unwrap_or(0)
                .saturating_mul(filled.cut());
            match spares {
                0 => {}
                1 => notes.push(format!("1 spare of the {} went with it", need.row.role)),
                _ => notes.push(format!(
                    "{spares} spares of the {} went with it",
                    need.row.role
                )),
            }
        }
    }
    Ok(notes)
}
