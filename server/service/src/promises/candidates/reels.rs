//! Which reels to take where a need runs from several at once: of one lot, or none.

use super::{Question, Serving};
use crate::garments::need::NeedRecord;
use ellwand_domain::code::{LotCode, ReservationCode};

/// Reels by lot, in the order of the best of each.
fn by_lot(serve: &[Serving]) -> Vec<(i64, Vec<&Serving>)> {
    let mut lots: Vec<(i64, Vec<&Serving>)> = Vec::new();
    for serving in serve {
        let lot = serving.shelved.stored.lot_id;
        match lots.iter_mut().find(|(known, _)| *known == lot) {
            Some((_, reels)) => reels.push(serving),
            None => lots.push((lot, vec![serving])),
        }
    }
    lots
}

fn number(open: i64) -> usize {
    usize::try_from(open).unwrap_or(usize::MAX)
}

/// The best `open` reels of one lot; where mixing is allowed and no lot has enough, the best of all. None when they do not reach.
pub(super) fn choose<'s>(
    need: &NeedRecord,
    serve: &'s [Serving],
    open: i64,
) -> Vec<(&'s Serving, i64)> {
    let wanted = number(open);
    let enough = by_lot(serve)
        .into_iter()
        .map(|(_, reels)| reels)
        .find(|reels| reels.len() >= wanted);
    let all = || {
        Some(serve.iter().collect::<Vec<_>>())
            .filter(|all| need.plan.conditions.mixing && all.len() >= wanted)
    };
    let reels = enough.or_else(all).unwrap_or_default();
    reels
        .into_iter()
        .take(wanted)
        .map(|reel| (reel, 1))
        .collect()
}

/// Which lots come nearest, where none has enough reels; where the need is bound to a lot, what that one lacks.
pub(super) fn nearest(asked: &Question<'_>, serve: &[Serving], each: &str) -> Vec<String> {
    let &Question { need, open, .. } = asked;
    if need.plan.reels().is_none() || open < 1 || !choose(need, serve, open).is_empty() {
        return Vec::new();
    }
    if !asked.bound.is_empty() {
        return vec![bound(asked, serve.len(), each)];
    }
    let mut lots = by_lot(serve);
    lots.sort_by_key(|(_, reels)| std::cmp::Reverse(reels.len()));
    let counts: Vec<String> = lots
        .iter()
        .take(3)
        .map(|(lot, reels)| format!("{} has {}", LotCode::new(*lot), reels.len()))
        .collect();
    let what = if open == 1 {
        "a reel".to_owned()
    } else {
        format!("{open} reels")
    };
    let none = match (need.plan.conditions.mixing, counts.is_empty()) {
        (true, true) if !asked.filled.active.is_empty() => {
            return vec![format!("no other reel on the shelf has {each} free")];
        }
        (_, true) => return vec![format!("no lot has even one reel with {each} free")],
        (true, _) => format!("all lots together do not have {what} with {each} free each"),
        (false, _) => format!("no lot has {what} with {each} free each"),
    };
    vec![format!("{none}: {}", counts.join(", "))]
}

/// That the lot which a need has reels of cannot give the others: with what it has, and how to be free of it.
fn bound(asked: &Question<'_>, more: usize, each: &str) -> String {
    let lots: Vec<String> = asked
        .bound
        .iter()
        .map(|lot| LotCode::new(*lot).to_string())
        .collect();
    let lot = lots.join(", ");
    let has = match more {
        0 => format!("has no other with {each} free"),
        more => format!(
            "has {more} of the {} more with {each} free each",
            asked.open
        ),
    };
    let promises: Vec<String> = asked
        .filled
        .active
        .iter()
        .map(|row| ReservationCode::new(row.id).to_string())
        .collect();
    let release = match promises.as_slice() {
        [] => String::new(),
        promises => format!("release {} first, or ", promises.join(", ")),
    };
    format!(
        "the {} already has reels of lot {lot}, and {lot} {has}: {release}allow mixing",
        asked.need.row.role
    )
}
