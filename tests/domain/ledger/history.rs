//! Random histories of every act: after each step the rules of the ledger hold.

use super::book::{Act, Book, CutAct, Length};
use ellwand_domain::{
    layer::Method,
    setting::{End, OffcutValue},
};
use proptest::{
    prelude::*,
    test_runner::{Config, TestRunner},
};
use std::{cell::RefCell, collections::BTreeMap};

/// Histories; each up to [`STEPS`] acts.
const CASES: u32 = 2_000;
const STEPS: usize = 40;

/// Thousandths, often just at the border or in simple parts so that sums meet it.
fn length() -> impl Strategy<Value = Length> {
    prop_oneof![4 => 1..=1_001_i64, 1 => Just(1_000_i64), 3 => (1..=5_i64).prop_map(|fifths| fifths * 200)]
}

/// Millionths: nothing, a few (so that rounding shows), or a real price.
fn value() -> impl Strategy<Value = i64> {
    prop_oneof![1 => Just(0_i64), 2 => 1..200_i64, 3 => 1_000_000..900_000_000_i64]
}

fn end() -> impl Strategy<Value = End> {
    prop_oneof![Just(End::Outer), Just(End::Inner)]
}

fn cut() -> impl Strategy<Value = Act> {
    let panel = (
        1..=1_000_i64,
        any::<bool>(),
        prop_oneof![Just(OffcutValue::Area), Just(OffcutValue::Zero)],
    );
    let place = (
        any::<u8>(),
        any::<u8>(),
        length(),
        end(),
        proptest::option::weighted(0.2, 0..1_000_i64),
    );
    let promise = (
        proptest::option::weighted(0.5, any::<u8>()),
        any::<bool>(),
        prop_oneof![2 => Just(0), 1 => any::<u8>()],
    );
    let rest = (
        proptest::option::weighted(0.2, panel),
        prop_oneof![3 => Just(0), 1 => 0..600_i64],
    );
    (place, promise, rest, any::<bool>(), any::<bool>()).prop_map(
        |(place, promise, rest, mistake, own_lot)| {
            let (piece, garment, length, end, at) = place;
            let (from_promise, last, may_break) = promise;
            let (panel, waste_up_to) = rest;
            Act::Cut(CutAct {
                piece,
                garment,
                length,
                end,
                at,
                from_promise,
                last,
                may_break,
                panel,
                waste_up_to,
                mistake,
                own_lot,
            })
        },
    )
}

fn receipt() -> impl Strategy<Value = Act> {
    let cloth = (
        prop_oneof![1 => 1..40_i64, 3 => 100_000..9_000_000_i64],
        1_000..1_600_000_i64,
        value(),
    );
    let trims = (1..300_i64, value());
    prop_oneof![
        3 => cloth.prop_map(|(length, width, value)| Act::Receive { length, width, value }),
        1 => trims.prop_map(|(number, value)| Act::ReceiveTrims { number, value }),
    ]
}

fn reserve() -> impl Strategy<Value = Act> {
    (
        any::<u8>(),
        length(),
        any::<bool>(),
        proptest::option::of(1..4_u32),
        1..4_u32,
    )
        .prop_map(|(piece, length, accepted, due, promised)| Act::Reserve {
            piece,
            length,
            accepted,
            due,
            promised,
        })
}

fn act() -> impl Strategy<Value = Act> {
    let piece = any::<u8>;
    prop_oneof![
        2 => receipt(),
        2 => (any::<u8>(), prop_oneof![value(), value().prop_map(|v| -v / 50)])
            .prop_map(|(lot, value)| Act::Charge { lot, value }),
        1 => (piece(), 800_000..1_100_000_i64).prop_map(|(piece, ppm)| Act::Prepare { piece, ppm }),
        1 => (piece(), prop_oneof![500..1_100_i64, Just(0_i64)])
            .prop_map(|(piece, length)| Act::Measure { piece, length }),
        3 => (piece(), 0..=1_000_i64, prop_oneof![Just(0_i64), 0..200_i64])
            .prop_map(|(piece, at, length)| Act::Flaw { piece, at, length }),
        1 => (piece(), 0..3_u8).prop_map(|(piece, flaw)| Act::MendFlaw { piece, flaw }),
        2 => (piece(), length(), end()).prop_map(|(piece, length, end)| Act::Split { piece, length, end }),
        8 => reserve(),
        1 => (any::<u8>(), any::<bool>()).prop_map(|(choice, expired)| Act::End { choice, expired }),
        9 => cut(),
        1 => (any::<u8>(), 1..7_i64, 0..7_i64).prop_map(|(garment, started, spoiled)| {
            Act::Finish { garment, started, spoiled: spoiled.min(started) }
        }),
        1 => (any::<u8>(), proptest::option::of(1..2_000_000_i64))
            .prop_map(|(garment, to_shelf)| Act::Cancel { garment, to_shelf }),
        6 => any::<u8>().prop_map(|booking| Act::Undo { booking }),
    ]
}

/// What must have happened often for the histories to prove anything.
const KINDS: [&str; 30] = [
    "received",
    "charged",
    "prepared",
    "measured",
    "flawed",
    "mended",
    "split",
    "promised",
    "released",
    "expired",
    "broken",
    "ended by a cut",
    "cut",
    "cut a strip",
    "cut in the middle",
    "cut at the inner end",
    "cut into a promise",
    "wasted",
    "drawn",
    "finished",
    "cancelled",
    "undone: receipt",
    "undone: charge",
    "undone: measure",
    "undone: split",
    "undone: cut",
    "undone: last cut of its piece",
    "undone: drawn goes back",
    "undone: closing",
    "refused or nothing to do",
];

#[test]
fn the_rules_of_the_ledger_hold_after_every_act_of_any_history() {
    let config = Config {
        cases: CASES,
        failure_persistence: None,
        ..Config::default()
    };
    let tally = RefCell::new(BTreeMap::<&'static str, u32>::new());
    let histories = (
        any::<bool>(),
        receipt(),
        prop::collection::vec(act(), 1..STEPS),
    );
    let outcome = TestRunner::new(config).run(&histories, |(fifo, first, acts)| {
        let mut book = Book::new(if fifo {
            Method::Fifo
        } else {
            Method::MovingAverage
        });
        for act in std::iter::once(&first).chain(&acts) {
            let (before, happened) = (book.movements.clone(), book.tally.values().sum::<u32>());
            book.act(act);
            book.check(&before);
            if book.tally.values().sum::<u32>() == happened {
                *book.tally.entry("refused or nothing to do").or_default() += 1;
            }
        }
        for (what, times) in book.tally {
            *tally.borrow_mut().entry(what).or_default() += times;
        }
        Ok(())
    });
    if let Err(failure) = outcome {
        panic!("{failure}");
    }
    for kind in KINDS {
        let times = tally.borrow().get(kind).copied().unwrap_or(0);
        assert!(
            times >= 10,
            "\"{kind}\" happened only {times} times: {:?}",
            tally.borrow()
        );
    }
}
