//! The search: the need with the fewest pieces left first, every piece tried, what cannot become better left out.

mod joined;
mod worth;

use super::{Assignment, Claim, Offer, Score, Source, Split, Take, offers::alike};

/// A choice that was found.
struct Found {
    score: Score,
    takes: Vec<Take>,
    short: Vec<(usize, i64)>,
}

pub(super) struct Search<'a> {
    sources: &'a [Source],
    claims: &'a [Claim],
    keep: i64,
    alike: Vec<usize>,
    /// The least that a unit of each need takes.
    smallest: Vec<i64>,
    /// What is free in each stretch of each piece, less what was taken at the least.
    left: Vec<Vec<i64>>,
    takes: Vec<Take>,
    unserved: Vec<usize>,
    may_go_without: usize,
    steps: usize,
    best: Option<Found>,
}

/// A need in the middle of being served.
#[derive(Clone, Copy)]
struct Filling<'n> {
    claim: usize,
    units: i64,
    /// Offers before this one were tried.
    from: usize,
    lot: Option<i64>,
    others: &'n [usize],
}

impl<'a> Search<'a> {
    pub(super) fn new(
        sources: &'a [Source],
        claims: &'a [Claim],
        keep: i64,
        budget: usize,
    ) -> Self {
        Self {
            sources,
            claims,
            keep,
            alike: alike(sources, claims),
            smallest: claims.iter().map(smallest).collect(),
            left: sources.iter().map(|source| source.free.clone()).collect(),
            takes: Vec::new(),
            unserved: Vec::new(),
            may_go_without: 0,
            steps: budget,
            best: None,
        }
    }

    /// Needs that the untouched shelf can serve.
    pub(super) fn servable(&mut self) -> Vec<usize> {
        (0..self.claims.len())
            .filter(|claim| self.room(*claim).is_some())
            .collect()
    }

    /// Looks through all choices for these needs that leave no more than so many of them without.
    pub(super) fn run(&mut self, claims: &[usize], without: usize) {
        self.may_go_without = without;
        self.serve(claims);
    }

    pub(super) const fn is_stopped(&self) -> bool {
        self.steps == 0
    }

    pub(super) const fn has_found(&self) -> bool {
        self.best.is_some()
    }

    pub(super) fn into_assignment(self) -> Option<Assignment> {
        let stopped = self.is_stopped();
        let Found {
            score,
            takes,
            short,
        } = self.best?;
        let unserved = score.which.0.clone();
        Some(Assignment {
            takes,
            unserved,
            score,
            short,
            stopped,
        })
    }

    /// Serves the needs that are left.
    fn serve(&mut self, remaining: &[usize]) {
        if self.is_stopped() || self.is_hopeless(remaining.iter()) {
            return;
        }
        let room = |search: &mut Self, claim: usize| search.room(claim).unwrap_or_default();
        let Some((offers, claim)) = remaining
            .iter()
            .map(|claim| (room(self, *claim), *claim))
            .min()
        else {
            self.record();
            return;
        };
        let others: Vec<usize> = remaining
            .iter()
            .copied()
            .filter(|other| *other != claim)
            .collect();
        if offers > 0 {
            let units = self.claims.get(claim).map_or(0, |claim| claim.units);
            self.fill(Filling {
                claim,
                units,
                from: 0,
                lot: None,
                others: &others,
            });
        }
        if self.unserved.len() < self.may_go_without {
            self.unserved.push(claim);
            self.serve(&others);
            self.unserved.pop();
        }
    }

    /// How many pieces can still give a need something; `None` when they do not hold all its units.
    fn room(&mut self, claim: usize) -> Option<usize> {
        let claim = self.claims.get(claim)?;
        let (mut pieces, mut most) = (0_usize, Vec::<(i64, i64)>::new());
        for offer in &claim.offers {
            self.steps = self.steps.saturating_sub(1);
            let holds = match claim.split {
                Split::Joined => self.longest(offer.source),
                Split::Lengths => self.units_in(offer),
                Split::Apart => self.units_in(offer).min(1),
            };
            if holds < 1 {
                continue;
            }
            pieces = pieces.saturating_add(1);
            let lot = if claim.one_lot || claim.split == Split::Joined {
                self.lot(offer.source)
            } else {
                0
            };
            match most.iter_mut().find(|(known, _)| *known == lot) {
                Some((_, sum)) => *sum = sum.saturating_add(holds),
                None => most.push((lot, holds)),
            }
        }
        let each = claim.offers.first().map_or(1, |offer| offer.least.max(1));
        let sets = |(_, sum): &(i64, i64)| match claim.split {
            Split::Joined => sum.checked_div(each).unwrap_or(0),
            Split::Lengths | Split::Apart => *sum,
        };
        let lots = most.iter().map(sets);
        let reached = match claim.one_lot {
            true => lots.max().unwrap_or(0),
            false => lots.fold(0, i64::saturating_add),
        };
        (reached >= claim.units).then_some(pieces)
    }

    fn lot(&self, source: usize) -> i64 {
        self.sources.get(source).map_or(0, |source| source.lot)
    }

    fn longest(&self, source: usize) -> i64 {
        self.left
            .get(source)
            .and_then(|left| left.iter().copied().max())
            .unwrap_or(0)
    }

    /// Units that the longest stretch of a piece holds.
    fn units_in(&self, offer: &Offer) -> i64 {
        self.longest(offer.source)
            .checked_div(offer.least)
            .unwrap_or(0)
    }

    /// Takes the units of a need that are still wanted, in every way.
    fn fill(&mut self, filling: Filling<'_>) {
        let Some(claim) = self.claims.get(filling.claim) else {
            return;
        };
        if filling.units < 1 {
            self.serve(filling.others);
            return;
        }
        if claim.split == Split::Joined {
            self.fill_sets(filling);
            return;
        }
        let mut tried = Vec::new();
        for (index, offer) in claim.offers.iter().enumerate().skip(filling.from) {
            if self.is_stopped() {
                return;
            }
            self.steps = self.steps.saturating_sub(1);
            let lot = self.lot(offer.source);
            if filling.lot.is_some_and(|bound| bound != lot)
                || self.stands_for_another(offer, &mut tried)
            {
                continue;
            }
            let next = Filling {
                from: index.saturating_add(1),
                lot: claim.one_lot.then_some(lot),
                ..filling
            };
            self.take(offer, next);
        }
    }

    /// True for a piece that nothing is taken from when another like it was tried.
    fn stands_for_another(&self, offer: &Offer, tried: &mut Vec<usize>) -> bool {
        if self.takes.iter().any(|take| take.source == offer.source) {
            return false;
        }
        let Some(class) = self.alike.get(offer.source) else {
            return false;
        };
        let known = tried.contains(class);
        if !known {
            tried.push(*class);
        }
        known
    }

    /// Takes units of one piece, as many as fit and then fewer, in each of its stretches.
    fn take(&mut self, offer: &Offer, next: Filling<'_>) {
        let Some(claim) = self.claims.get(next.claim) else {
            return;
        };
        let mut tried = Vec::new();
        for stretch in 0..self.left.get(offer.source).map_or(0, Vec::len) {
            let free = self.free(offer.source, stretch);
            if tried.contains(&free) {
                continue;
            }
            tried.push(free);
            let most = free.checked_div(offer.least).unwrap_or(0).min(next.units);
            let most = if claim.split == Split::Apart {
                most.min(1)
            } else {
                most
            };
            for units in (1..=most).rev() {
                let left = next.units.saturating_sub(units);
                if left > 0 && self.room_after(next) < left {
                    break;
                }
                let all = |one: i64| one.saturating_mul(units);
                let (least, rounded) = (all(offer.least), all(offer.rounded.max(offer.least)));
                let (claim, source) = (next.claim, offer.source);
                self.push(Take {
                    claim,
                    source,
                    stretch,
                    units,
                    quantity: least,
                    least,
                    rounded,
                });
                if left < 1 || !self.is_hopeless(next.others.iter().chain([&claim])) {
                    self.fill(Filling {
                        units: left,
                        ..next
                    });
                }
                self.pop();
            }
        }
    }

    /// Units that the offers hold which a need has not tried.
    fn room_after(&mut self, filling: Filling<'_>) -> i64 {
        let Some(claim) = self.claims.get(filling.claim) else {
            return 0;
        };
        let mut sum = 0_i64;
        for offer in claim.offers.iter().skip(filling.from) {
            self.steps = self.steps.saturating_sub(1);
            if filling.lot.is_none_or(|lot| lot == self.lot(offer.source)) {
                let units = self.units_in(offer);
                sum = sum.saturating_add(if claim.split == Split::Apart {
                    units.min(1)
                } else {
                    units
                });
            }
        }
        sum
    }

    fn free(&self, source: usize, stretch: usize) -> i64 {
        self.left
            .get(source)
            .and_then(|left| left.get(stretch))
            .copied()
            .unwrap_or(0)
    }

    fn push(&mut self, take: Take) {
        if let Some(left) = self
            .left
            .get_mut(take.source)
            .and_then(|left| left.get_mut(take.stretch))
        {
            *left = left.saturating_sub(take.least);
        }
        self.takes.push(take);
    }

    fn pop(&mut self) {
        let Some(take) = self.takes.pop() else { return };
        if let Some(left) = self
            .left
            .get_mut(take.source)
            .and_then(|left| left.get_mut(take.stretch))
        {
            *left = left.saturating_add(take.least);
        }
    }
}

fn smallest(claim: &Claim) -> i64 {
    match claim.split {
        // A joined set takes any part of a piece.
        Split::Joined => 1,
        Split::Lengths | Split::Apart => claim
            .offers
            .iter()
            .map(|offer| offer.least)
            .min()
            .unwrap_or(i64::MAX),
    }
}
