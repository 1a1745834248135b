//! How good a choice is, whole or begun.

use super::{Found, Search};
use crate::assign::{
    Score, Take,
    score::{cut_into, rests, round_up},
};
use std::{cmp::Reverse, collections::BTreeSet};

impl Search<'_> {
    /// True when nothing that comes of the takes so far is better than the best choice.
    pub(super) fn is_hopeless<'n>(&self, remaining: impl Iterator<Item = &'n usize>) -> bool {
        let Some(best) = &self.best else { return false };
        let smallest = remaining
            .filter_map(|claim| self.smallest.get(*claim))
            .min();
        let mut score = self.score_without_rests(&self.takes);
        for ((source, _), rest) in rests(self.sources, &self.takes) {
            // What may still be used, or may be used up by rounding, need not become waste.
            let at_least = rest.free.saturating_sub(rest.rounding);
            if at_least > 0
                && smallest.is_none_or(|smallest| rest.free < *smallest)
                && rest.free < self.keep
            {
                self.add_waste(&mut score, source, at_least);
            }
        }
        score.cannot_beat(&best.score)
    }

    fn score_without_rests(&self, takes: &[Take]) -> Score {
        let (codes, lots) = cut_into(self.sources, takes);
        let mut unserved = self.unserved.clone();
        unserved.sort_unstable();
        let mut score = Score {
            unserved: unserved.len(),
            which: Reverse(unserved),
            pieces: codes.len(),
            lots: lots.len(),
            codes: codes.into_iter().collect(),
            ..Score::default()
        };
        let mut known = BTreeSet::new();
        for take in takes {
            let offers = self
                .claims
                .get(take.claim)
                .map_or(&[][..], |claim| &claim.offers);
            let Some(offer) = offers.iter().find(|offer| offer.source == take.source) else {
                continue;
            };
            if known.insert((take.claim, take.source)) {
                score.off = score.off.saturating_add(offer.off);
                score.estimated = score.estimated.saturating_add(usize::from(offer.estimated));
            }
        }
        score
    }

    fn add_waste(&self, score: &mut Score, source: usize, rest: i64) {
        let width = self.sources.get(source).map_or(0, |source| source.width);
        if width > 0 {
            score.short = score.short.saturating_add(1);
            score.area = score
                .area
                .saturating_add(i128::from(rest).saturating_mul(i128::from(width)));
        }
    }

    /// Keeps the takes as they are, when they are the best so far.
    pub(super) fn record(&mut self) {
        let mut takes = self.takes.clone();
        let mut score = self.score_without_rests(&takes);
        let mut short = Vec::new();
        for ((source, _), rest) in round_up(self.sources, &mut takes) {
            let width = self.sources.get(source).map_or(0, |source| source.width);
            if rest > 0 && rest < self.keep && width > 0 {
                self.add_waste(&mut score, source, rest);
                short.push((source, rest));
            }
        }
        if self.best.as_ref().is_none_or(|best| score < best.score) {
            self.best = Some(Found {
                score,
                takes,
                short,
            });
        }
    }
}
