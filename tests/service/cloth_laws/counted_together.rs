//! So many promises of one length hold what one promise of so many lengths holds, where the cloth lies in one stretch.

use super::{
    bench::{
        Answer, active, buy, empty, lying, metres, plan, promise, settings, share_up, to_step, um,
        wash,
    },
    cases,
    sheets::{Known, known},
};
use crate::book::TestBook;
use proptest::prelude::*;
use serde_json::{Value, json};

const ALLOWANCE: i64 = 40_000;

/// How the same lengths are asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Asked {
    /// A batch, in one promise.
    Batch,
    /// A batch, length by length.
    OneByOne,
    /// As many garments.
    Garments,
}

const ALL: [Asked; 3] = [Asked::Batch, Asked::OneByOne, Asked::Garments];

#[derive(Debug, Clone)]
struct Case {
    known: Known,
    washed: i64,
    count: usize,
    step: i64,
    prepared: bool,
    /// Micrometres on the piece beyond the least that all take.
    more: i64,
}

fn case() -> impl Strategy<Value = Case> {
    let steps = prop::sample::select(vec![1, 1_000, 10_000, 50_000]);
    let more = prop_oneof![-60_000_i64..0, Just(0), 0_i64..120_000, Just(5_000_000)];
    (
        known(),
        300_i64..1_500,
        2_usize..5,
        steps,
        any::<bool>(),
        more,
    )
        .prop_map(|(known, washed, count, step, prepared, more)| Case {
            known,
            washed: washed * 1_000,
            count,
            step,
            prepared,
            more,
        })
}

impl Case {
    fn times(&self) -> i64 {
        i64::try_from(self.count).unwrap()
    }

    /// Least that one length takes.
    fn least(&self) -> i64 {
        let left = &self.known.lengthwise;
        let after = if self.prepared {
            left.before
        } else {
            left.at(1)
        };
        share_up(self.washed + ALLOWANCE, left.before, after)
    }

    fn book(&self) -> TestBook {
        let book = empty();
        settings(
            &book,
            json!({"cutting_step": metres(self.step), "end_allowance": metres(ALLOWANCE)}),
        );
        let lot = buy(
            &book,
            &self.known.sheet,
            &[self.least() * self.times() + self.more],
        );
        self.known.log_test(&book, &lot);
        if self.prepared {
            let length = um(lying(&book, &lot)[0].on_hand);
            wash(&book, "L1.1", "washed", length, None).unwrap();
        }
        book
    }

    fn need(&self) -> Value {
        json!({"length": metres(self.washed), "preparation": "washed"})
    }

    /// Promises them; the first refusal, where there is one.
    fn ask(&self, book: &TestBook, asked: Asked) -> Answer<()> {
        let batch = if asked == Asked::Garments {
            1
        } else {
            self.count
        };
        let promises = if asked == Asked::Batch { 1 } else { self.count };
        let mut garment = String::new();
        for number in 0..promises {
            if number == 0 || asked == Asked::Garments {
                garment = plan(book, &self.need(), batch);
            }
            promise(book, &garment, "L1.1", Some(self.count / promises))?;
        }
        Ok(())
    }
}

/// All that is held, free, and free in one stretch.
fn held(book: &TestBook) -> [i64; 3] {
    let piece = &lying(book, "L1")[0];
    [piece.reserved, piece.free, piece.longest_free].map(um)
}

proptest! {
    #![proptest_config(cases(12))]

    /// Where there is room for all as they are rounded up, or none for all of them in any way.
    #[test]
    fn promises_of_one_are_one_promise_of_all(case in case()) {
        let gap = to_step(case.least(), case.step) - case.least();
        let more = if case.more < 0 { case.more } else { case.more.max(gap * case.times()) };
        let case = Case { more, ..case };
        let mut seen = Vec::new();
        for asked in ALL {
            let book = case.book();
            let answer = case.ask(&book, asked);
            prop_assert_eq!(answer.is_ok(), case.more >= 0, "{:?}: {:?}", asked, answer);
            seen.push(held(&book));
            book.audit();
        }
        if case.more >= 0 {
            prop_assert!(seen.iter().all(|held| *held == seen[0]), "{:?} of {:?}", seen, ALL);
        }
    }

    /// With room for some of the roundings, or for none of them, all are promised in each way, too.
    #[test]
    fn the_roundings_of_some_refuse_none_of_the_others(case in case()) {
        for asked in ALL {
            let book = case.book();
            let answer = case.ask(&book, asked);
            prop_assert_eq!(answer.is_ok(), case.more >= 0, "{:?}: {:?}", asked, answer);
            let all: i64 = (1..=case.count).flat_map(|number| promises_of(&book, number)).sum();
            prop_assert_eq!(all, held(&book)[0]);
        }
    }
}

/// What the promises of a garment hold, which may not have been planned.
fn promises_of(book: &TestBook, number: usize) -> Vec<i64> {
    let code = format!("G{number}");
    let known = book
        .ask::<ellwand_contract::garments::GetGarment>(json!({"garment": code}))
        .is_ok();
    if known {
        active(book, &code)
            .iter()
            .map(|promise| um(promise.held))
            .collect()
    } else {
        Vec::new()
    }
}

/// By hand: (1.00 + 0.04) ÷ 0.96 = 1.083334 m each, 2.166668 m both; a step of 5 cm rounds up "where the cloth is there" and
/// "never breaks or refuses what fits" (the rules).
#[test]
fn two_promises_fit_where_a_batch_of_two_does() {
    for asked in ALL {
        let book = empty();
        settings(
            &book,
            json!({"cutting_step": "5cm", "end_allowance": "4cm"}),
        );
        buy(
            &book,
            &json!({"shrinkage": {"length": "4%", "width": "2%"}}),
            &[2_170_000],
        );
        let batch = if asked == Asked::Garments { 1 } else { 2 };
        let need = json!({"length": "1m", "preparation": "washed"});
        let mut garment = plan(&book, &need, batch);
        if asked == Asked::Batch {
            promise(&book, &garment, "L1.1", None).unwrap();
            continue;
        }
        promise(&book, &garment, "L1.1", Some(1)).unwrap();
        if asked == Asked::Garments {
            garment = plan(&book, &need, 1);
        }
        let second = promise(&book, &garment, "L1.1", Some(1));
        assert!(second.is_ok(), "{asked:?}: {second:?}");
    }
}
