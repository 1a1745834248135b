//! Units that are joined from several pieces: sets of counted trims, thread, and cloth by its longest part.

use super::{Found, Question, Serving, Working, pick::take_share};
use crate::{
    desk::{Desk, context::Context, failure::Done},
    garments::need::NeedRecord,
};
use ellwand_contract::garments::{CannotServe, Pick, SetLot};
use ellwand_domain::{
    code::LotCode,
    need::{Begun, Joining},
    setting::WhyNot,
    trim::{Card, Share, fill, join, lacking},
};
use std::{cmp::Reverse, collections::BTreeMap};

/// Pieces whose shares may come together: those of a lot, or all.
fn group_of(need: &NeedRecord, lot: i64) -> i64 {
    match need.joining() {
        Joining::Joined { one_lot: false, .. } => 0,
        _ => lot,
    }
}

/// Pieces that can fill no unit, not even with the others of their lot, go to those that cannot serve. Returns what each lot has of a
/// counted trim for the open units.
pub(super) fn sort_out(
    context: &Context<'_>,
    asked: &Question<'_>,
    found: &mut Found,
) -> Done<Vec<SetLot>> {
    let need = asked.need;
    if !need.is_joined() {
        return Ok(Vec::new());
    }
    let lots = lots(asked, &found.serve);
    let mut free: BTreeMap<i64, (i64, usize)> = BTreeMap::new();
    for serving in &found.serve {
        let group = group_of(need, serving.shelved.stored.lot_id);
        let (sum, pieces) = free.entry(group).or_default();
        *sum = sum.saturating_add(serving.gives);
        *pieces = pieces.saturating_add(1);
    }
    let mut serve = Vec::with_capacity(found.serve.len());
    for mut serving in std::mem::take(&mut found.serve) {
        let lot = serving.shelved.stored.lot_id;
        let Some(short) = serving.short.take() else {
            serve.push(serving);
            continue;
        };
        let (all, pieces) = free.get(&group_of(need, lot)).copied().unwrap_or_default();
        // What completes a unit that was begun is less than a whole one.
        let begun = asked.filled.begun_of(need, lot);
        let least = begun.map_or(serving.size, |begun| begun.missing);
        let together = need.share_text(context, all)?;
        let code = LotCode::new(lot);
        if all < least {
            let reason = match pieces > 1 && need.demand.is_none() {
                true => format!("{short}; {code} has {together} in all"),
                false => short,
            };
            found.cannot.push(CannotServe {
                piece: serving.view.piece,
                name: serving.view.name,
                why: WhyNot::Short,
                reason,
            });
            continue;
        }
        if serving.gives < least {
            let others = match group_of(need, lot) {
                0 => "others".to_owned(),
                _ => format!("other pieces of {code}"),
            };
            let note = format!("only with {others}: {together} in all");
            serving.view.notes.push(note);
        }
        serve.push(serving);
    }
    found.serve = serve;
    found
        .cannot
        .sort_by_key(|piece| (piece.piece.lot, piece.piece.number));
    Ok(lots)
}

/// What each lot has of a counted trim for the open units.
fn lots(asked: &Question<'_>, serve: &[Serving]) -> Vec<SetLot> {
    let (need, open) = (asked.need, asked.open);
    let Some(each) = need.set_size().filter(|_| open > 0) else {
        return Vec::new();
    };
    let mut lots: BTreeMap<i64, SetLot> = BTreeMap::new();
    for serving in serve {
        let lot = lots
            .entry(serving.shelved.stored.lot_id)
            .or_insert_with(|| SetLot {
                lot: serving.shelved.record.code(),
                name: serving.view.name.clone(),
                free: 0,
                missing: 0,
                pieces: 0,
            });
        lot.free = lot.free.saturating_add(serving.gives);
        lot.pieces += 1;
    }
    let sets = if need.plan.conditions.mixing { 1 } else { open };
    let mut lots: Vec<SetLot> = lots.into_values().collect();
    for lot in &mut lots {
        let begun = asked.filled.begun_of(need, lot.lot.get());
        let have = begun.map_or(0, |begun| begun.have);
        lot.missing = lacking(each, sets, have.saturating_add(lot.free));
    }
    lots.sort_by_key(|lot| (lot.missing, lot.free, lot.lot));
    lots
}

/// Pieces whose shares may come together, as they are taken from.
struct Group {
    id: i64,
    cards: Vec<Card>,
}

impl Group {
    fn free(&self) -> i64 {
        self.cards
            .iter()
            .fold(0, |sum, card| sum.saturating_add(card.free))
    }

    fn take(&mut self, piece: usize, share: i64) {
        for card in self.cards.iter_mut().filter(|card| card.piece == piece) {
            card.free = card.free.saturating_sub(share);
        }
    }

    /// What completes a unit that was begun, where its longest part finds room.
    fn complete(&self, begun: &Begun, longest: Option<i64>) -> Option<Vec<(usize, i64)>> {
        let taken = join(&self.cards, begun.missing)?;
        let longest = longest.filter(|_| begun.lacks_longest).unwrap_or(0);
        let holds = taken.iter().any(|(_, share)| *share >= longest);
        holds.then_some(taken)
    }
}

/// What to take where single pieces do not reach: first what completes the units that were begun, then whole ones and joined
/// ones of the lot that needs the fewest pieces and leaves least. Where lots may be mixed, each set of trims is of one all the same.
pub(super) fn pick(
    desk: &mut Desk<'_>,
    asked: &Question<'_>,
    serve: &[Serving],
    working: &mut Working,
) -> Done<Vec<Pick>> {
    let &Question { need, open, .. } = asked;
    let Joining::Joined { longest, .. } = need.joining() else {
        return Ok(Vec::new());
    };
    let Some(each) = serve.iter().map(|serving| serving.size).max() else {
        return Ok(Vec::new());
    };
    let mut groups = groups(need, serve);
    let (mut open, mut shares) = (open, Vec::new());
    for begun in asked.filled.begun() {
        let own = group_of(need, begun.lot);
        let group = groups.iter_mut().find(|group| group.id == own);
        let joined = group.and_then(|group| Some((group.complete(begun, longest)?, group)));
        match joined {
            Some((taken, group)) => {
                for (piece, share) in taken {
                    group.take(piece, share);
                    shares.push(Share::Part {
                        piece,
                        trims: share,
                    });
                }
                open -= 1;
            }
            // What is promised of it can be released; what was cut of it cannot hold the others up.
            None if asked.filled.has_share_of(begun.lot) => return Ok(Vec::new()),
            None => {}
        }
    }
    if open > 0 {
        let filled = match need.plan.conditions.mixing {
            true => mixed(&mut groups, each, open),
            false => of_one(&groups, each, open),
        };
        match filled.filter(|filled| hold_longest(filled, longest)) {
            Some(filled) => shares.extend(filled),
            None => return Ok(Vec::new()),
        }
    }
    let mut picks = Vec::with_capacity(shares.len());
    for share in shares {
        let (piece, units, amount) = match share {
            Share::Sets { piece, sets } => (piece, Some(sets), None),
            Share::Part { piece, trims } => (piece, None, Some(trims)),
        };
        if let Some(serving) = serve.get(piece) {
            picks.push(take_share(desk, asked, serving, (units, amount), working)?);
        }
    }
    Ok(picks)
}

/// The pieces that serve, by what comes together. A piece of cloth that holds whole units gives those, without its rest.
fn groups(need: &NeedRecord, serve: &[Serving]) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (piece, serving) in serve.iter().enumerate() {
        let id = group_of(need, serving.shelved.stored.lot_id);
        let free = match need.demand.is_some() && serving.view.units > 0 {
            true => serving.size.saturating_mul(serving.view.units),
            false => serving.gives,
        };
        let card = Card { piece, free };
        match groups.iter_mut().find(|group| group.id == id) {
            Some(group) => group.cards.push(card),
            None => groups.push(Group {
                id,
                cards: vec![card],
            }),
        }
    }
    groups
}

/// True when each joined unit has a share that holds the longest part: the first of each is the fullest.
fn hold_longest(shares: &[Share], longest: Option<i64>) -> bool {
    let longest = longest.unwrap_or(0);
    let mut parts = shares.iter().filter_map(|share| match share {
        Share::Part { trims, .. } => Some(*trims),
        Share::Sets { .. } => None,
    });
    parts.next().is_none_or(|first| first >= longest)
}

/// All from one lot: the fewest pieces, then the least left over.
fn of_one(groups: &[Group], each: i64, open: i64) -> Option<Vec<Share>> {
    let filled = groups
        .iter()
        .filter_map(|lot| Some((fill(&lot.cards, each, open)?, lot)));
    filled
        .min_by_key(|(shares, lot)| (shares.len(), lot.free(), lot.id))
        .map(|(shares, _)| shares)
}

/// From the fewest lots, those that hold most first.
fn mixed(groups: &mut [Group], each: i64, open: i64) -> Option<Vec<Share>> {
    groups.sort_by_key(|lot| (Reverse(lot.free() / each.max(1)), lot.free(), lot.id));
    let (mut open, mut shares) = (open, Vec::new());
    for lot in groups.iter() {
        let sets = (lot.free() / each.max(1)).min(open);
        if sets > 0 {
            shares.extend(fill(&lot.cards, each, sets)?);
            open -= sets;
        }
    }
    (open < 1).then_some(shares)
}
