//! How good a choice is.

use super::{Source, Take};
use std::{
    cmp::Reverse,
    collections::{BTreeMap, BTreeSet},
};

/// How good a choice is; the smaller, the better. Its fields are compared in their order.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Score {
    /// Needs that are left without.
    pub unserved: usize,
    /// Which ones: rather those later in the plan.
    pub which: Reverse<Vec<usize>>,
    /// How far sizes are from those wanted, in all.
    pub off: i64,
    /// Takes that rest on an estimate.
    pub estimated: usize,
    /// Rests of cloth too short to keep.
    pub short: usize,
    /// Their area, in square micrometres.
    pub area: i128,
    /// Pieces that are cut into.
    pub pieces: usize,
    /// Lots that are cut into.
    pub lots: usize,
    /// Pieces that are cut into: lot and number, in this order.
    pub codes: Vec<(i64, i64)>,
}

impl Score {
    /// True when whatever is added to this choice, the other is at least as good.
    pub(super) fn cannot_beat(&self, other: &Self) -> bool {
        // Who else goes without is not decided before as many do.
        if self.unserved < other.unserved {
            return false;
        }
        let Self {
            unserved,
            which,
            off,
            estimated,
            short,
            area,
            pieces,
            lots,
            codes,
        } = self;
        let own = (unserved, which, off, estimated, short, area, pieces, lots);
        let Self {
            unserved,
            which,
            off,
            estimated,
            short,
            area,
            pieces,
            lots,
            codes: best_codes,
        } = other;
        let best = (unserved, which, off, estimated, short, area, pieces, lots);
        // With as many pieces the codes are final, too.
        own > best || (own == best && codes >= best_codes)
    }
}

/// What is left of a stretch at the least takes, and how much of that rounding up would take.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rest {
    pub(super) free: i64,
    pub(super) rounding: i64,
}

/// Pieces and lots that are cut into.
pub(super) fn cut_into(
    sources: &[Source],
    takes: &[Take],
) -> (BTreeSet<(i64, i64)>, BTreeSet<i64>) {
    let cut = takes.iter().filter_map(|take| sources.get(take.source));
    let codes: BTreeSet<(i64, i64)> = cut.map(|source| (source.lot, source.number)).collect();
    let lots = codes.iter().map(|(lot, _)| *lot).collect();
    (codes, lots)
}

/// The stretches that something is taken from, with what is left.
pub(super) fn rests(sources: &[Source], takes: &[Take]) -> BTreeMap<(usize, usize), Rest> {
    let mut rests = BTreeMap::new();
    for take in takes {
        let free = || sources.get(take.source)?.free.get(take.stretch).copied();
        let rest = rests
            .entry((take.source, take.stretch))
            .or_insert_with(|| Rest {
                free: free().unwrap_or_default(),
                rounding: 0,
            });
        rest.free = rest.free.saturating_sub(take.least);
        rest.rounding = rest
            .rounding
            .saturating_add(take.rounded.saturating_sub(take.least));
    }
    rests
}

/// Rounds up what is taken, in the order of the needs, as far as each stretch has room; what is left of each.
pub(super) fn round_up(sources: &[Source], takes: &mut [Take]) -> BTreeMap<(usize, usize), i64> {
    takes.sort_by_key(|take| (take.claim, take.source, take.stretch));
    let rests = rests(sources, takes);
    let mut left: BTreeMap<(usize, usize), i64> = rests
        .into_iter()
        .map(|(place, rest)| (place, rest.free))
        .collect();
    for take in takes {
        take.quantity = take.least;
        let more = take.rounded.saturating_sub(take.least);
        if let Some(left) = left
            .get_mut(&(take.source, take.stretch))
            .filter(|left| **left >= more)
        {
            *left = left.saturating_sub(more);
            take.quantity = take.rounded;
        }
    }
    left
}
