//! What to take of the pieces that serve.

use super::{Serving, Working, reels};
use crate::{failure::Done, garments::need::NeedRecord};
use ellwand_contract::{Metres, garments::Pick};
use ellwand_domain::{ledger::Rank, quantity::Micrometres};
use std::collections::BTreeMap;

/// What to take: the best piece that holds all open units, else the fewest pieces of one lot (of any lots
/// where mixing is allowed), the best first. Nothing when they do not reach, or nothing is open.
pub(super) fn pick(
    need: &NeedRecord,
    serve: &[Serving],
    open: i64,
    missing: Option<Micrometres>,
    working: &mut Working,
) -> Done<Vec<Pick>> {
    if open < 1 {
        return Ok(Vec::new());
    }
    let chosen: Vec<(&Serving, i64)> = match serve.iter().find(|serving| serving.view.units >= open) {
        _ if need.input.reels.is_some() => reels::choose(need, serve, open),
        Some(whole) => vec![(whole, open)],
        None => {
            let mut groups: BTreeMap<i64, Vec<&Serving>> = BTreeMap::new();
            for serving in serve {
                let group = if need.input.mixing { 0 } else { serving.shelved.stored.lot_id };
                groups.entry(group).or_default().push(serving);
            }
            let filled = groups.into_values().filter_map(|group| fill(group, open));
            filled.min_by_key(Vec::len).unwrap_or_default()
        }
    };
    let mut picks = Vec::new();
    for (serving, units) in chosen {
        let mut shelved = serving.shelved.clone();
        working.picks = working.picks.saturating_sub(1);
        let (most, least) = serving.fit.both(units)?;
        let rank =
            Rank { accepted: false, due: None, promised: shelved.stored.last_on, reservation: working.picks };
        if shelved.stored.piece.reserve_between(least, most, rank).is_ok() {
            working.pieces.insert(shelved.stored.piece.id, shelved);
        }
        picks.push(Pick {
            need: need.row.role.clone(),
            piece: serving.view.piece,
            units: missing.is_none().then_some(units),
            trims: None,
            washed_length: missing.map(|length| format!("{}m", Metres(length)).parse()).transpose()?,
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
