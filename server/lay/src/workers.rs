//! Several searches side by side, each from a seed of its own.

use crate::{Budget, Found, LayFault, search};
use ellwand_domain::lay::{Lay, LayCloth, LayPart};
use std::{
    num::NonZeroUsize,
    sync::{
        Mutex, PoisonError,
        atomic::{AtomicBool, AtomicU64, Ordering},
    },
    thread,
};

/// How many seeds are searched from, and on how many threads.
#[derive(Debug, Clone, Copy)]
pub struct Seeds {
    /// The budget's seed and those after it.
    pub count: NonZeroUsize,
    /// Changes nothing but the time.
    pub threads: NonZeroUsize,
}

/// Searches from several seeds, each with the whole budget; returns the shortest lay, of equals that of the first seed.
///
/// # Errors
/// As [`search`]; a seed that found a lay counts before one that did not.
pub fn search_by(
    seeds: Seeds,
    parts: &[LayPart],
    cloth: LayCloth,
    budget: Budget,
    known: Option<&Lay>,
    cancel: &AtomicBool,
) -> Result<Found, LayFault> {
    let next = AtomicU64::new(0);
    let answers = Mutex::new(Vec::with_capacity(seeds.count.get()));
    let work = || {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            if number >= seeds.count.get() as u64 {
                return;
            }
            let seed = budget.seed.wrapping_add(number);
            let own = Budget { seed, ..budget };
            let answer = search(parts, cloth, own, known, &mut |_| {}, cancel);
            let mut answers = answers.lock().unwrap_or_else(PoisonError::into_inner);
            answers.push((number, answer));
        }
    };
    thread::scope(|scope| {
        for _ in 1..seeds.threads.get() {
            scope.spawn(work);
        }
        work();
    });
    let answers = answers.into_inner().unwrap_or_else(PoisonError::into_inner);
    let length = |answer: &Result<Found, LayFault>| match answer {
        Ok(found) => found.lay.length().get(),
        Err(_) => i64::MAX,
    };
    let shortest = answers
        .into_iter()
        .min_by_key(|(number, answer)| (length(answer), *number));
    shortest.map_or(Err(LayFault::Nothing), |(_, answer)| answer)
}
