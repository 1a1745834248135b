//! What to take of the pieces that serve.

use super::{Question, Serving, Working, joined, reels};
use crate::{
    desk::{Desk, failure::Done},
    promises::fit::{self, UnitFit},
};
use ellwand_contract::{Metres, garments::Pick};
use ellwand_domain::{
    ledger::{Hold, Quantity, Rank},
    quantity::Micrometres,
};
use std::collections::BTreeMap;

/// What was chosen for a need of one piece, beside the other needs.
pub(super) struct Chosen {
    pub(super) piece: i64,
    pub(super) stretch: usize,
    /// Whole units; 0 for a share of one.
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
    let mut picks: Vec<Pick> = Vec::with_capacity(chosen.len());
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
        let (units, share) = match units {
            0 => (None, Some(quantity.get())),
            units => (Some(units), None),
        };
        // Lengths of one piece are one pick, in whatever stretches they lie.
        let same = picks
            .iter_mut()
            .find(|pick| pick.piece == serving.view.piece && pick.units.is_some());
        match (same, units) {
            (Some(same), Some(units)) => same.units = same.units.map(|before| before + units),
            _ => picks.push(pick_of(asked, serving, units, share)?),
        }
    }
    Ok(picks)
}

/// A pick of whole units, or of a share of one.
fn pick_of(
    asked: &Question<'_>,
    serving: &Serving,
    units: Option<i64>,
    share: Option<i64>,
) -> Done<Pick> {
    let need = asked.need;
    let length = share.filter(|_| !need.counted);
    let length = length.map(Micrometres::new).transpose()?;
    Ok(Pick {
        need: need.row.role.clone(),
        piece: serving.view.piece,
        units,
        trims: share.filter(|_| need.counted),
        washed_length: length
            .map(|length| format!("{}m", Metres(length)).parse())
            .transpose()?,
    })
}

/// A pick of whole units or a share, and the shelf without it.
pub(super) fn take_share(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    serving: &Serving,
    (units, share): (Option<i64>, Option<i64>),
    working: &mut Working,
) -> Done<Pick> {
    let known = working.pieces.get(&serving.shelved.stored.piece.id);
    let mut shelved = known.unwrap_or(&serving.shelved).clone();
    let rank = working.next_rank(&shelved);
    let fit = of_share(desk, asked, serving, share)?;
    if reserve(&mut shelved.stored.piece, &fit, units.unwrap_or(1), rank)? {
        working.pieces.insert(shelved.stored.piece.id, shelved);
    }
    pick_of(asked, serving, units, share)
}

/// What a share takes of a piece; without one, what a whole unit does.
pub(super) fn of_share(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    serving: &Serving,
    share: Option<i64>,
) -> Done<UnitFit> {
    let part = share.map(Quantity::new).transpose()?;
    let &Question { garment, need, .. } = asked;
    let fit = fit::fit(desk, garment, need, &serving.shelved, part)?;
    Ok(fit.unwrap_or_else(|_| serving.fit.clone()))
}

/// Takes room for so many units on a piece; false where there is none.
fn reserve(
    piece: &mut ellwand_domain::ledger::Piece,
    fit: &UnitFit,
    units: i64,
    rank: Rank,
) -> Done<bool> {
    let takes = crate::promises::Takes::new(fit.clone(), units)?;
    Ok(takes.reserve(piece, rank, &[]).is_ok())
}

/// What a need takes with no regard to others: of the nearest sizes alone, where they reach; else of those a little off beside them.
/// `serve`: the best first.
pub(super) fn alone(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    serve: &[Serving],
    working: &mut Working,
) -> Done<Vec<Pick>> {
    for nearest in serve
        .chunk_by(|one, next| one.off == next.off)
        .scan(0, |end, sizes| {
            *end += sizes.len();
            Some(*end)
        })
    {
        let serve = serve.get(..nearest).unwrap_or_default();
        let mut picks = Vec::new();
        if asked.filled.begun().is_empty() {
            picks = pick(asked, serve, working)?;
        }
        if picks.is_empty() && asked.open > 0 {
            picks = joined::pick(desk, asked, serve, working)?;
        }
        if !picks.is_empty() {
            return Ok(picks);
        }
    }
    Ok(Vec::new())
}

/// What to take: the best piece that holds all open units, else the fewest pieces of one lot (of any lots
/// where mixing is allowed), the best first. Nothing when they do not reach, or nothing is open.
fn pick(asked: &Question<'_>, serve: &[Serving], working: &mut Working) -> Done<Vec<Pick>> {
    let &Question { need, open, .. } = asked;
    if open < 1 {
        return Ok(Vec::new());
    }
    let chosen: Vec<(&Serving, i64)> = match serve.iter().find(|serving| serving.view.units >= open)
    {
        _ if need.plan.reels().is_some() => reels::choose(need, serve, open),
        Some(whole) => vec![(whole, open)],
        None => {
            let mut groups: BTreeMap<i64, Vec<&Serving>> = BTreeMap::new();
            for serving in serve {
                let group = if need.plan.conditions.mixing {
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
        if reserve(&mut shelved.stored.piece, &serving.fit, units, rank)? {
            working.pieces.insert(shelved.stored.piece.id, shelved);
        }
        picks.push(pick_of(asked, serving, Some(units), None)?);
    }
    Ok(picks)
}

/// Fills `open` units from a group, the pieces that take most first.
fn fill(mut group: Vec<&Serving>, open: i64) -> Option<Vec<(&Serving, i64)>> {
    group.sort_by_key(|serving| std::cmp::Reverse(serving.view.units));
    let (mut left, mut chosen) = (open, Vec::new());
    for serving in group {
        if left < 1 || serving.view.units < 1 {
            break;
        }
        let units = serving.view.units.min(left);
        chosen.push((serving, units));
        left -= units;
    }
    (left < 1).then_some(chosen)
}
