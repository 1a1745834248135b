//! A wash that does what was predicted loses no promise (the rule: "a predicted wash loses no promise").
//!
//! Predicted lengths are rounded up to a whole micrometre, so that no rounding of them is to blame.

use super::{
    bench::{
        active, buy, empty, metres, plan, promise, settings, share_down, share_up, to_step, um,
        wash, with,
    },
    cases,
    sheets::{Known, known},
};
use crate::book::TestBook;
use ellwand_contract::lots::MarkFlaw;
use ellwand_domain::setting::Basis;
use proptest::prelude::*;
use serde_json::json;

const FULL: i64 = 1_500_000;
const USABLE: i64 = 1_480_000;
const ALLOWANCE: i64 = 40_000;

/// A need: its washed length in micrometres, and for how many garments.
type Wanted = (i64, usize);

fn wanted() -> impl Strategy<Value = Vec<Wanted>> {
    prop::collection::vec((300_i64..1_500, 1_usize..4), 1..4).prop_map(|all| {
        all.into_iter()
            .map(|(length, count)| (length * 1_000, count))
            .collect()
    })
}

fn steps() -> impl Strategy<Value = i64> {
    prop::sample::select(vec![1, 1_000, 10_000, 50_000])
}

/// One piece as long as its promises, or as long as they are in each of its stretches, as narrow as they allow.
struct Tight {
    book: TestBook,
    length: i64,
    garments: Vec<String>,
    wanted: Vec<Wanted>,
}

impl Tight {
    /// `room`: micrometres more in each stretch and less of the width asked for, which roundings after each of several
    /// washes may take.
    fn new(
        known: &Known,
        washes: usize,
        wanted: &[Wanted],
        step: i64,
        flaws: bool,
        room: i64,
    ) -> Self {
        let book = empty();
        settings(
            &book,
            json!({"cutting_step": metres(step), "end_allowance": metres(ALLOWANCE)}),
        );
        let left = (known.lengthwise.before, known.lengthwise.at(washes));
        // Raw length: (washed length + end allowance) ÷ what is left, up to the cutting step.
        let raw = |(washed, count): &Wanted| {
            to_step(share_up(washed + ALLOWANCE, left.0, left.1), step)
                * i64::try_from(*count).unwrap()
        };
        let stretches: Vec<i64> = wanted.iter().map(raw).collect();
        let flaw = if flaws { 7_000 } else { 0 };
        let length = stretches.iter().map(|stretch| stretch + room + flaw).sum();
        let sheet = with(known.sheet.clone(), &json!({"selvedges": "2cm"}));
        let lot = buy(&book, &sheet, &[length]);
        known.log_test(&book, &lot);
        let mut at = 0;
        for stretch in stretches.iter().filter(|_| flaws) {
            at += stretch + room;
            let mark = json!({"piece": "L1.1", "at": metres(at), "length": metres(flaw)});
            book.ask::<MarkFlaw>(mark).unwrap();
            at += flaw;
        }
        let width = share_down(USABLE, known.crosswise.at(washes), known.crosswise.before) - room;
        let garments = wanted.iter().map(|(washed, count)| {
            let need = json!({"length": metres(*washed), "width": metres(width), "preparation": format!("washed x{washes}")});
            plan(&book, &need, *count)
        });
        let garments: Vec<String> = garments.collect();
        // The longest first, so that each finds the stretch that was made for it.
        let mut order: Vec<usize> = (0..wanted.len()).collect();
        order.sort_by_key(|index| -stretches[*index]);
        for index in order {
            let held = um(promise(&book, &garments[index], "L1.1", None).unwrap().held);
            assert_eq!(held, stretches[index], "of {length}");
        }
        Self {
            book,
            length,
            garments,
            wanted: wanted.to_vec(),
        }
    }

    /// Washes it on from so many washes to so many, as predicted.
    fn wash(
        &mut self,
        known: &Known,
        from: usize,
        to: usize,
        measured: bool,
    ) -> Result<(), TestCaseError> {
        let width = share_up(FULL, known.crosswise.at(to), known.crosswise.before);
        let left = &known.lengthwise;
        self.length = share_up(self.length, left.at(to), left.at(from));
        let preparation = format!("washed x{}", to - from);
        let done = wash(
            &self.book,
            "L1.1",
            &preparation,
            self.length,
            measured.then_some(width),
        );
        let done = done.map_err(|problem| TestCaseError::fail(problem.to_string()))?;
        prop_assert!(
            done.broken.is_empty(),
            "wash {} to {}: {:?} of {:?}",
            from,
            to,
            done.broken,
            done.piece
        );
        Ok(())
    }

    fn ready(&self) -> Result<(), TestCaseError> {
        for (garment, (washed, count)) in self.garments.iter().zip(&self.wanted) {
            let promises = active(&self.book, garment);
            prop_assert_eq!(promises.len(), 1);
            prop_assert_eq!(promises[0].basis, Some(Basis::Prepared));
            prop_assert!(
                um(promises[0].held) >= (washed + ALLOWANCE) * i64::try_from(*count).unwrap()
            );
        }
        self.book.audit();
        Ok(())
    }
}

proptest! {
    #![proptest_config(cases(12))]

    /// Several promises on one piece that is as long and as wide as they are, with flaws between them or without; the width
    /// is measured after the wash or computed.
    #[test]
    fn a_predicted_wash_loses_none_of_several_promises(
        known in known(), wanted in wanted(), step in steps(), flaws in any::<bool>(), measured in any::<bool>(), washes in 1_usize..4
    ) {
        let mut piece = Tight::new(&known, washes, &wanted, step, flaws, 0);
        piece.wash(&known, 0, washes, measured)?;
        piece.ready()?;
    }

    /// The same reached wash by wash: by a test the step from each to the next, and nothing after the first wash where a
    /// figure counts for all of them.
    #[test]
    fn predicted_washes_one_by_one_lose_no_promise(
        known in known(), wanted in wanted(), step in steps(), flaws in any::<bool>(), measured in any::<bool>(),
        jumps in prop::collection::vec(1_usize..3, 1..4)
    ) {
        let washes = jumps.iter().sum();
        let mut piece = Tight::new(&known, washes, &wanted, step, flaws, 10);
        let mut done = 0;
        for jump in jumps {
            piece.wash(&known, done, done + jump, measured)?;
            done += jump;
        }
        piece.ready()?;
    }

    /// A range of the mass per area says the same of cloth before the wash and of that cloth after it.
    #[test]
    fn a_predicted_wash_keeps_promises_with_a_range_of_mass(
        known in known(), mass in 80_i64..400, least in 80_i64..450, range in 0_i64..60
    ) {
        let book = empty();
        let sheet = with(known.sheet.clone(), &json!({"mass": format!("{mass}gsm")}));
        let lot = buy(&book, &sheet, &[3_000_000]);
        known.log_test(&book, &lot);
        let range = json!({"mass_min": format!("{least}gsm"), "mass_max": format!("{}gsm", least + range)});
        let garment = plan(&book, &with(range, &json!({"preparation": "washed"})), 1);
        if promise(&book, &garment, "L1.1", None).is_ok() {
            let length = share_up(3_000_000, known.lengthwise.at(1), known.lengthwise.before);
            let done = wash(&book, "L1.1", "washed", length, None).unwrap();
            prop_assert!(done.broken.is_empty(), "{:?}", done.broken);
        }
    }
}
