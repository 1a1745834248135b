//! What to take of the pieces that serve.

use super::{Question, Serving, Working, reels, sets};
use crate::{failure::Done, garments::need::NeedRecord};
use ellwand_contract::{Metres, garments::Pick};
use ellwand_domain::{
    ledger::{Hold, Quantity},
    quantity::Micrometres,
};
use std::collections::BTreeMap;

/// What was chosen for a need of one piece, beside the other needs.
pub(super) struct Chosen {
    pub(super) piece: i64,
    pub(super) stretch: usize,
    /// Whole units; 0 for a part of a set.
    pub(super) units: i64,
    pub(super) quantity: Quantity,
}

/// The picks of what was chosen, and the shelf without them.
pub(super) fn take(
    asked: &Question<'_>,
    serve: &[Serving],
    chosen: &[Chosen],
    working: &mut Working,
) -> Done<Vec<Pick>> {
    let need = asked.need;
    let mut picks = Vec::with_capacity(chosen.len());
    for &Chosen {
        piece,
        stretch,
        units,
        quantity,
    } in chosen
    {
        let Some(serving) = serve
            .iter()
            .find(|serving| serving.shelved.stored.piece.id == piece)
        else {
            continue;
        };
        let rank = working.next_rank(&serving.shelved);
        let shelved = working
            .pieces
            .entry(piece)
            .or_insert_with(|| serving.shelved.clone());
        shelved
            .stored
            .piece
            .holds
            .push(Hold::whole(stretch, quantity, rank));
        let part = units < 1;
        picks.push(Pick {
            need: need.row.role.clone(),
            piece: serving.view.piece,
            units: (!part && asked.missing.is_none()).then_some(units),
            trims: part.then_some(quantity.get()),
            washed_length: washed(asked.missing)?,
        });
    }
    Ok(picks)
}

fn washed(missing: Option<Micrometres>) -> Done<Option<ellwand_contract::Typed<Micrometres>>> {
    Ok(missing
        .map(|length| format!("{}m", Metres(length)).parse())
        .transpose()?)
}

/// What a need takes with no regard to others: of the nearest sizes alone, where they reach; else of those a little off beside them.
/// `serve`: the best first.
pub(super) fn alone(
    asked: &Question<'_>,
    serve: &[Serving],
    working: &mut Working,
) -> Done<Vec<Pick>> {
    let &Question {
        need,
        open,
        missing,
        ref begun,
        ..
    } = asked;
    for nearest in serve
        .chunk_by(|one, next| one.off == next.off)
        .scan(0, |end, sizes| {
            *end += sizes.len();
            Some(*end)
        })
    {
        let serve = serve.get(..nearest).unwrap_or_default();
        let mut picks = Vec::new();
        if begun.is_empty() {
            picks = pick(need, serve, open, missing, working)?;
        }
        if picks.is_empty() && need.counted {
            picks = sets::pick(need, serve, open, begun, working)?;
        }
        if !picks.is_empty() {
            return Ok(picks);
        }
    }
    Ok(Vec::new())
}

/// What to take: the best piece that holds all open units, else the fewest pieces of one lot (of any lots
/// where mixing is allowed), the best first. Nothing when they do not reach, or nothing is open.
fn pick(
    need: &NeedRecord,
    serve: &[Serving],
    open: i64,
    missing: Option<Micrometres>,
    working: &mut Working,
) -> Done<Vec<Pick>> {
    if open < 1 {
        return Ok(Vec::new());
    }
    let chosen: Vec<(&Serving, i64)> = match serve.iter().find(|serving| serving.view.units >= open)
    {
        _ if need.input.reels.is_some() => reels::choose(need, serve, open),
        Some(whole) => vec![(whole, open)],
        None => {
            let mut groups: BTreeMap<i64, Vec<&Serving>> = BTreeMap::new();
            for serving in serve {
                let group = if need.input.mixing {
                    0
                } else {
                    serving.shelved.stored.lot_id
                };
                groups.entry(group).or_default().push(serving);
            }
            let filled = groups.into_values().filter_map(|group| fill(group, open));
            filled.min_by_key(Vec::len).unwrap_or_default()
        }
    };
    let mut picks = Vec::new();
    for (serving, units) in chosen {
        let mut shelved = serving.shelved.clone();
        let rank = working.next_rank(&shelved);
        let (most, least) = serving.fit.both(units)?;
        if shelved
            .stored
            .piece
            .reserve_between(least, most, rank)
            .is_ok()
        {
            working.pieces.insert(shelved.stored.piece.id, shelved);
        }
        picks.push(Pick {
            need: need.row.role.clone(),
            piece: serving.view.piece,
            units: missing.is_none().then_some(units),
            trims: None,
            washed_length: washed(missing)?,
        });
    }
    Ok(picks)
}

/// Fills `open` units from a group, the pieces that take most first.
fn fill(mut group: Vec<&Serving>, open: i64) -> Option<Vec<(&Serving, i64)>> {
    group.sort_by_key(|serving| std::cmp::Reverse(serving.view.units));
    let (mut left, mut chosen) = (open, Vec::new());
    for serving in group {
        if left < 1 {
            break;
        }
        let units = serving.view.units.min(left);
        chosen.push((serving, units));
        left -= units;
    }
    (left < 1).then_some(chosen)
}
