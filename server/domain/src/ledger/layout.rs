//! Where promises lie: each in one stretch, as many as fit in the order given (rule 6).

use super::{Hold, Quantity};
use std::cmp::Reverse;

/// Steps of the search for another arrangement before it gives up; far more than a real piece needs.
const SEARCH_STEPS: usize = 20_000;

/// Promises that were laid out.
pub(super) struct Laid {
    /// Those that fit, with their stretches.
    pub(super) kept: Vec<Hold>,
    /// Those that do not, in the order given.
    pub(super) broken: Vec<Hold>,
}

/// Lays promises into stretches of these lengths, in the order given: each where it was if it fits there, else
/// where it fits most closely. Where it fits nowhere beside the others, all are arranged again if that
/// helps; else it is broken, and the others stay. `divide`: separate lengths of one promise may lie in several stretches, and
/// only those break that fit nowhere.
pub(super) fn lay_out(lengths: &[i64], waiting: Vec<Hold>, divide: bool) -> Laid {
    let mut free = lengths.to_vec();
    let mut laid = Laid {
        kept: Vec::with_capacity(waiting.len()),
        broken: Vec::new(),
    };
    for mut hold in waiting {
        let wanted = hold.quantity.get();
        let stays = free.get(hold.stretch).is_some_and(|free| *free >= wanted);
        let close = || {
            let fitting = free.iter().enumerate().filter(|(_, free)| **free >= wanted);
            fitting
                .min_by_key(|(index, free)| (**free, *index))
                .map(|(index, _)| index)
        };
        if let Some(stretch) = if stays { Some(hold.stretch) } else { close() } {
            hold.stretch = stretch;
            laid.kept.push(hold);
        } else {
            laid.kept.push(hold);
            let quantities: Vec<Quantity> = laid.kept.iter().map(|hold| hold.quantity).collect();
            let Some(places) = arrange(lengths, &quantities) else {
                laid.kept.pop();
                if divide {
                    let (parts, lost) = divided(&free, hold);
                    laid.kept.extend(parts);
                    laid.broken.extend(lost);
                    free = left(lengths, &laid.kept);
                } else {
                    laid.broken.push(hold);
                }
                continue;
            };
            for (hold, stretch) in laid.kept.iter_mut().zip(places) {
                hold.stretch = stretch;
            }
        }
        free = left(lengths, &laid.kept);
    }
    laid
}

/// The separate lengths of a promise in stretches that have so much free: as many as fit where it lay, then where most is free.
/// Returns what lies where, and what is left over.
pub(super) fn divided(free: &[i64], hold: Hold) -> (Vec<Hold>, Option<Hold>) {
    let mut order: Vec<(usize, i64)> = free.iter().copied().enumerate().collect();
    order.sort_by_key(|(index, free)| (*index != hold.stretch, Reverse(*free), *index));
    let (mut rest, mut parts) = (hold, Vec::new());
    for (stretch, free) in order {
        if free >= rest.quantity.get() {
            parts.push(Hold { stretch, ..rest });
            return (parts, None);
        }
        if let Some((part, left)) = rest.split_for(free) {
            parts.push(Hold { stretch, ..part });
            rest = left;
        }
    }
    (parts, Some(rest))
}

/// Lays promises out by the least that serves each, then rounds them up again in the order given, as far as each stretch
/// has room.
pub(super) fn lay_out_closely(lengths: &[i64], waiting: &[Hold], divide: bool) -> Laid {
    let close: Vec<Hold> = waiting
        .iter()
        .map(|hold| Hold {
            quantity: hold.least,
            ..*hold
        })
        .collect();
    let mut laid = lay_out(lengths, close, divide);
    let mut free = left(lengths, &laid.kept);
    for hold in &mut laid.kept {
        let was = waiting
            .iter()
            .find(|other| other.reservation == hold.reservation);
        let more = was.map_or(Quantity::ZERO, |was| was.rounding_of(hold));
        if let Some(room) = free
            .get_mut(hold.stretch)
            .filter(|room| **room >= more.get())
            && let Ok(rounded) = hold.least.plus(more)
        {
            *room = room.saturating_sub(more.get());
            hold.quantity = rounded;
        }
    }
    laid
}

/// What is left of each length.
fn left(lengths: &[i64], holds: &[Hold]) -> Vec<i64> {
    let mut free = lengths.to_vec();
    for hold in holds {
        if let Some(free) = free.get_mut(hold.stretch) {
            *free = free.saturating_sub(hold.quantity.get());
        }
    }
    free
}

/// A stretch for each quantity so that all fit: the longest first, every stretch tried.
fn arrange(lengths: &[i64], quantities: &[Quantity]) -> Option<Vec<usize>> {
    let mut order: Vec<usize> = (0..quantities.len()).collect();
    order.sort_by_key(|index| Reverse(quantities.get(*index).copied()));
    let sorted: Vec<i64> = order
        .iter()
        .filter_map(|index| quantities.get(*index))
        .map(|q| q.get())
        .collect();
    let mut search = Search {
        free: lengths.to_vec(),
        places: Vec::new(),
        steps: SEARCH_STEPS,
    };
    if !search.place(&sorted) {
        return None;
    }
    let mut places = vec![0; quantities.len()];
    for (index, place) in order.into_iter().zip(search.places) {
        if let Some(slot) = places.get_mut(index) {
            *slot = place;
        }
    }
    Some(places)
}

struct Search {
    free: Vec<i64>,
    places: Vec<usize>,
    steps: usize,
}

impl Search {
    fn place(&mut self, quantities: &[i64]) -> bool {
        let Some((first, rest)) = quantities.split_first() else {
            return true;
        };
        let room = self
            .free
            .iter()
            .fold(0_i64, |sum, free| sum.saturating_add(*free));
        if room
            < quantities
                .iter()
                .fold(0_i64, |sum, quantity| sum.saturating_add(*quantity))
        {
            return false;
        }
        let mut tried = Vec::new();
        for (index, free) in self.free.clone().into_iter().enumerate() {
            if free < *first || tried.contains(&free) {
                continue;
            }
            if self.steps == 0 {
                return false;
            }
            self.steps = self.steps.saturating_sub(1);
            tried.push(free);
            self.set(index, free.saturating_sub(*first));
            self.places.push(index);
            if self.place(rest) {
                return true;
            }
            self.places.pop();
            self.set(index, free);
        }
        false
    }

    fn set(&mut self, index: usize, free: i64) {
        if let Some(slot) = self.free.get_mut(index) {
            *slot = free;
        }
    }
}

/// Where a promise of `wanted` goes that lay in the stretch at `old` (start, length): of the stretches that share cloth
/// with it, the one it fits most closely, else the first; nowhere (`usize::MAX`, for settling) without any.
pub(super) fn successor(old: (i64, i64), spans: &[(i64, i64)], wanted: Quantity) -> usize {
    let (from, to) = (old.0, old.0.saturating_add(old.1));
    let shares = |start: i64, length: i64| start < to && start.saturating_add(length) > from;
    let near = || {
        spans
            .iter()
            .enumerate()
            .filter(|(_, (start, length))| shares(*start, *length))
    };
    let fitting = near().filter(|(_, (_, length))| *length >= wanted.get());
    let closest = fitting.min_by_key(|(index, (_, length))| (*length, *index));
    closest
        .or_else(|| near().next())
        .map_or(usize::MAX, |(index, _)| index)
}
