//! The same parts, cloth, seed and count give the same lay.

use super::{budget, cloth, esicup, searched, shirt};
use ellwand_domain::lay::Lay;
use ellwand_lay::{Seeds, search, search_by};
use std::{
    num::NonZeroUsize,
    sync::atomic::{AtomicBool, Ordering},
    time::Duration,
};

const POSITIONS: u64 = 30_000;

fn by(seeds: usize, threads: usize) -> Lay {
    let some = |count| NonZeroUsize::new(count).unwrap();
    let seeds = Seeds {
        count: some(seeds),
        threads: some(threads),
    };
    let cancel = AtomicBool::new(false);
    let found = search_by(
        seeds,
        &shirt(),
        cloth(1_400, 3),
        budget(POSITIONS, 7),
        None,
        &cancel,
    );
    found.unwrap().lay
}

#[test]
fn the_same_search_finds_the_same_lay() {
    let once = searched(&shirt(), cloth(1_400, 3), budget(POSITIONS, 7), None);
    let again = searched(&shirt(), cloth(1_400, 3), budget(POSITIONS, 7), None);
    assert_eq!(once, again);
    let other = searched(&shirt(), cloth(1_400, 3), budget(POSITIONS, 8), None);
    assert_ne!(once.lay.placements(), other.lay.placements());
}

/// Not worked out by hand: what a debug and a release build both found. A machine or build that finds another length breaks the promise.
#[test]
fn every_build_finds_the_same_lay() {
    let found = searched(&shirt(), cloth(1_400, 3), budget(POSITIONS, 7), None);
    assert_eq!(found.lay.length().get(), 1_195_273);
}

#[test]
fn threads_change_nothing() {
    let alone = by(3, 1);
    assert_eq!(alone, by(3, 2));
    assert_eq!(alone, by(3, 3));
    let single = |seed| searched(&shirt(), cloth(1_400, 3), budget(POSITIONS, seed), None).lay;
    let shortest = [7, 8, 9]
        .map(|seed| single(seed).length())
        .into_iter()
        .min();
    assert_eq!(Some(alone.length()), shortest);
}

/// Stopped by the clock, and stopped by hand: the count that is reported finds the same lay.
#[test]
fn a_search_that_was_stopped_can_be_repeated() {
    let (parts, cloth) = esicup::SHIRTS.parts();
    let timed = ellwand_lay::Budget {
        positions: u64::MAX,
        time: Some(Duration::from_millis(300)),
        seed: 3,
    };
    let stopped = searched(&parts, cloth, timed, None);
    assert!(stopped.positions > 0);
    let again = searched(&parts, cloth, budget(stopped.positions, 3), None);
    assert_eq!(stopped.lay, again.lay);

    let cancel = AtomicBool::new(false);
    let mut lengths = Vec::new();
    let mut progress = |lay: &Lay| {
        lengths.push(lay.length());
        cancel.store(lengths.len() == 3, Ordering::Relaxed);
    };
    let cancelled = search(
        &parts,
        cloth,
        budget(u64::MAX, 3),
        None,
        &mut progress,
        &cancel,
    )
    .unwrap();
    assert!(lengths.is_sorted_by(|longer, shorter| longer > shorter));
    assert_eq!(
        (lengths.len(), lengths.last()),
        (3, Some(&cancelled.lay.length()))
    );
    let again = searched(&parts, cloth, budget(cancelled.positions, 3), None);
    assert_eq!(cancelled.lay, again.lay);
}
