//! Sets of counted trims from several pieces of one lot.

use super::{Found, Serving, Working};
use crate::{
    context::Context,
    failure::Done,
    garments::need::NeedRecord,
    promises::set::{self, Set},
    shelved::show,
};
use ellwand_contract::garments::{CannotServe, Pick, SetLot};
use ellwand_domain::{
    code::LotCode,
    ledger::Quantity,
    trim::{Card, Share, fill, join, lacking},
};
use ellwand_storage::Tx;
use std::{cmp::Reverse, collections::BTreeMap};

/// Sets of the need that are incomplete.
pub(super) fn begun(tx: &mut Tx<'_>, context: &Context<'_>, need: &NeedRecord) -> Done<Vec<Set>> {
    let Some(each) = need.set_size() else {
        return Ok(Vec::new());
    };
    let mut sets = set::sets_of(tx, &need.row, Some(context.today))?;
    sets.retain(|set| set.missing(each) > 0);
    Ok(sets)
}

/// Incomplete sets in words.
pub(super) fn told(need: &NeedRecord, sets: &[Set]) -> Vec<String> {
    let Some(each) = need.set_size() else {
        return Vec::new();
    };
    sets.iter()
        .filter_map(|set| set::told(set, &need.row, each))
        .collect()
}

/// What each lot has for the open units; pieces of lots that cannot fill even one go to those that cannot serve.
pub(super) fn sort_out(
    context: &Context<'_>,
    need: &NeedRecord,
    open: i64,
    begun: &[Set],
    found: &mut Found,
) -> Done<Vec<SetLot>> {
    let Some(each) = need.set_size() else {
        return Ok(Vec::new());
    };
    let mut lots: BTreeMap<i64, SetLot> = BTreeMap::new();
    for serving in &found.serve {
        let lot = lots
            .entry(serving.shelved.stored.lot_id)
            .or_insert_with(|| SetLot {
                lot: serving.shelved.record.code(),
                name: serving.view.name.clone(),
                free: 0,
                missing: 0,
                pieces: 0,
            });
        lot.free = lot.free.saturating_add(serving.longest.get());
        lot.pieces += 1;
    }
    // What completes an incomplete set is less than a whole one.
    let least = |lot: i64| {
        begun
            .iter()
            .filter(|set| set.lot == lot)
            .map(|set| set.missing(each))
            .min()
            .unwrap_or(each)
    };
    let pieces = |count| show(context, true, Quantity::new(count).unwrap_or_default());
    let (mut serve, mut cannot) = (Vec::new(), Vec::new());
    for mut serving in std::mem::take(&mut found.serve) {
        let id = serving.shelved.stored.lot_id;
        let free = lots.get(&id).map_or(0, |lot| lot.free);
        let least = least(id);
        if serving.view.units > 0 {
            serve.push(serving);
        } else if free >= least {
            let lot = LotCode::new(id);
            if serving.longest.get() < least {
                serving.view.notes.push(format!(
                    "only with other pieces of {lot}: {} in all",
                    pieces(free)
                ));
            }
            serve.push(serving);
        } else {
            let mut reason = format!(
                "{} free, {} needed",
                pieces(serving.longest.get()),
                pieces(each)
            );
            if lots.get(&id).is_some_and(|lot| lot.pieces > 1) {
                reason = format!("{reason}; {} has {} in all", LotCode::new(id), pieces(free));
            }
            cannot.push(CannotServe {
                piece: serving.view.piece,
                name: serving.view.name,
                reason,
            });
        }
    }
    found.serve = serve;
    found.cannot.extend(cannot);
    found
        .cannot
        .sort_by_key(|piece| (piece.piece.lot, piece.piece.number));
    if open < 1 {
        return Ok(Vec::new());
    }
    let sets = if need.input.mixing { 1 } else { open };
    let mut lots: Vec<SetLot> = lots.into_values().collect();
    for lot in &mut lots {
        let have: i64 = begun
            .iter()
            .filter(|set| set.lot == lot.lot.get())
            .map(|set| each - set.missing(each))
            .sum();
        lot.missing = lacking(each, sets, have.saturating_add(lot.free));
    }
    lots.sort_by_key(|lot| (lot.missing, lot.free, lot.lot));
    Ok(lots)
}

/// The pieces of a lot, as they are taken from.
struct Lot {
    id: i64,
    cards: Vec<Card>,
}

impl Lot {
    fn free(&self) -> i64 {
        self.cards
            .iter()
            .fold(0, |sum, card| sum.saturating_add(card.free))
    }

    fn take(&mut self, piece: usize, trims: i64) {
        for card in self.cards.iter_mut().filter(|card| card.piece == piece) {
            card.free = card.free.saturating_sub(trims);
        }
    }
}

/// What to take where single pieces do not reach: first what completes the sets that were begun, then whole ones and joined
/// ones of the lot that needs the fewest pieces and leaves least. Where lots may be mixed, each set is of one all the same.
pub(super) fn pick(
    need: &NeedRecord,
    serve: &[Serving],
    open: i64,
    begun: &[Set],
    working: &mut Working,
) -> Done<Vec<Pick>> {
    let (Some(each), true) = (need.set_size(), open > 0) else {
        return Ok(Vec::new());
    };
    let mut lots: Vec<Lot> = Vec::new();
    for (piece, serving) in serve.iter().enumerate() {
        let (id, card) = (
            serving.shelved.stored.lot_id,
            Card {
                piece,
                free: serving.longest.get(),
            },
        );
        match lots.iter_mut().find(|lot| lot.id == id) {
            Some(lot) => lot.cards.push(card),
            None => lots.push(Lot {
                id,
                cards: vec![card],
            }),
        }
    }
    let (mut open, mut shares) = (open, Vec::new());
    for set in begun
        .iter()
        .take(usize::try_from(open).unwrap_or(usize::MAX))
    {
        let lot = lots.iter_mut().find(|lot| lot.id == set.lot);
        let joined = lot.and_then(|lot| Some((join(&lot.cards, set.missing(each))?, lot)));
        match joined {
            Some((taken, lot)) => {
                for (piece, trims) in taken {
                    lot.take(piece, trims);
                    shares.push(Share::Part { piece, trims });
                }
                open -= 1;
            }
            // What is promised of it can be released; what was cut of it cannot hold the others up.
            None if !set.active.is_empty() => return Ok(Vec::new()),
            None => {}
        }
    }
    if open > 0 {
        let filled = if need.input.mixing {
            mixed(&mut lots, each, open)
        } else {
            of_one(&lots, each, open)
        };
        let Some(filled) = filled else {
            return Ok(Vec::new());
        };
        shares.extend(filled);
    }
    promise(need, serve, each, &shares, working)
}

/// All from one lot: the fewest pieces, then the least left over.
fn of_one(lots: &[Lot], each: i64, open: i64) -> Option<Vec<Share>> {
    let filled = lots
        .iter()
        .filter_map(|lot| Some((fill(&lot.cards, each, open)?, lot)));
    filled
        .min_by_key(|(shares, lot)| (shares.len(), lot.free(), lot.id))
        .map(|(shares, _)| shares)
}

/// From the fewest lots, those that hold most first.
fn mixed(lots: &mut [Lot], each: i64, open: i64) -> Option<Vec<Share>> {
    lots.sort_by_key(|lot| (Reverse(lot.free() / each.max(1)), lot.free(), lot.id));
    let (mut open, mut shares) = (open, Vec::new());
    for lot in lots.iter() {
        let sets = (lot.free() / each.max(1)).min(open);
        if sets > 0 {
            shares.extend(fill(&lot.cards, each, sets)?);
            open -= sets;
        }
    }
    (open < 1).then_some(shares)
}

/// The picks, and the shelf without them.
fn promise(
    need: &NeedRecord,
    serve: &[Serving],
    each: i64,
    shares: &[Share],
    working: &mut Working,
) -> Done<Vec<Pick>> {
    let mut picks = Vec::with_capacity(shares.len());
    for share in shares {
        let (piece, units, trims) = match *share {
            Share::Sets { piece, sets } => (piece, Some(sets), None),
            Share::Part { piece, trims } => (piece, None, Some(trims)),
        };
        let Some(serving) = serve.get(piece) else {
            continue;
        };
        let stored = &serving.shelved.stored;
        let mut shelved = working
            .pieces
            .get(&stored.piece.id)
            .cloned()
            .unwrap_or_else(|| serving.shelved.clone());
        let rank = working.next_rank(&shelved);
        let held = Quantity::new(trims.unwrap_or(each.saturating_mul(units.unwrap_or(0))))?;
        if shelved.stored.piece.reserve(held, rank).is_ok() {
            working.pieces.insert(stored.piece.id, shelved);
        }
        picks.push(Pick {
            need: need.row.role.clone(),
            piece: serving.view.piece,
            units,
            washed_length: None,
            trims,
        });
    }
    Ok(picks)
}
