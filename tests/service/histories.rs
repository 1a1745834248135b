//! Random histories of every act on SQLite: whatever is asked in whatever order, the rules hold, nothing fails inside,
//! and every report adds up.

use crate::book::TestBook;
use ellwand_contract::{
    Micro, Problem, ProblemType,
    audit::RunAudit,
    bookings::{ListBookings, Undo},
    costs::{CostLine, CostPair, GetCost},
    cuts::Cut,
    garments::{
        CancelGarment, CopyGarment, DeliverGarment, EditGarment, FinishGarment, GetCandidates,
        GetGarment, PlanGarment,
    },
    lots::{GetLot, MarkFlaw, MeasurePiece, RemoveFlaw, SplitPiece, WeighPiece},
    purchases::{AddCharge, Buy},
    quotations::{
        AcceptQuotation, CloseQuotation, GetQuotation, ListQuotations, LogPayment, MakeQuotation,
        Requote,
    },
    reservations::{Release, Reserve},
    shelf::GetShelf,
    wash::{FinishWash, TestWash},
    work::LogWork,
    workshop::{SetOverheadRate, SetPayRate, SetWorkshop},
};
use ellwand_domain::setting::{QuotationState, ReservationState};
use proptest::{prelude::*, test_runner::RngSeed};
use serde_json::{Value, json};

/// An act with the numbers it is made of; what they mean depends on what there is.
pub type Draw = (u8, u16, u16, u16);

fn pick<T: Clone>(list: &[T], number: u16) -> Option<T> {
    list.get(usize::from(number).checked_rem(list.len())?)
        .cloned()
}

/// Refusals are answers; a fault inside is not.
#[track_caller]
pub fn fine<T>(answer: Result<T, Box<Problem>>) -> Option<T> {
    match answer {
        Ok(answer) => Some(answer),
        Err(problem) => {
            assert!(
                !matches!(
                    problem.kind,
                    ProblemType::Internal | ProblemType::Unavailable
                ),
                "{problem}: {problem:?}"
            );
            assert!(!problem.detail.is_empty());
            None
        }
    }
}

pub struct History {
    pub book: TestBook,
}

impl History {
    /// A book whose thread and trims are valued at the average, or first in, first out.
    pub fn new(average: bool) -> Self {
        let history = Self {
            book: TestBook::new(),
        };
        let book = &history.book;
        let method = if average { "average" } else { "fifo" };
        book.ask::<SetWorkshop>(json!({"pooled_method": method}))
            .unwrap();
        book.ask::<SetPayRate>(
            json!({"person": "owner", "per_hour": "24.00", "from": "2026-01-01"}),
        )
        .unwrap();
        book.ask::<SetOverheadRate>(json!({"amount": "85", "hours": "13h", "from": "2026-01-01"}))
            .unwrap();
        history.buy(3, 7, 1);
        history.plan(1, 0);
        history
    }

    fn buy(&self, a: u16, b: u16, c: u16) {
        let kinds = [
            json!({"kind": "cloth", "name": "linen", "full_width": "150cm", "selvedges": "2cm", "shrinkage": {"length": "5%", "width": "2%"}}),
            json!({"kind": "interlining", "name": "canvas", "full_width": "90cm"}),
            json!({"kind": "thread", "name": "thread", "yarn_count": "30tex", "reel_length": "500m"}),
            json!({"kind": "trim", "name": "buttons", "unit": "count"}),
        ];
        let line = |n: u16| {
            let thread = if n % 8 < 4 { "500m" } else { "2 reels" };
            let paid = ["4m", "7.31m", thread, "12"];
            let kind = usize::from(n % 4);
            json!({"material": kinds[kind], "paid": paid[kind], "price": format!("{}.{:02}", n % 97, n % 100), "mass": "1kg"})
        };
        let mut request = json!({
            "supplier": "Stall", "date": "2026-10-05",
            "line": [line(a), line(b), line(c)],
            "charge": [
                {"kind": "freight", "amount": "7.77", "share": (["value", "mass", "count"])[usize::from(a % 3)]},
                {"kind": "duty", "amount": "1.01", "lines": [1]},
            ],
        });
        if b.is_multiple_of(3) {
            (request["currency"], request["rate"]) = ("GBP".into(), "1.1713".into());
            request["really"] = true.into();
        }
        fine(self.book.ask::<Buy>(request));
    }

    fn plan(&self, count: u16, due: u16) {
        fine(self.book.ask::<PlanGarment>(json!({
            "name": "dress", "count": count % 4 + 1, "due": format!("2026-11-{:02}", due % 28 + 1),
            "need": [
                {"role": "shell", "kind": "cloth", "length": "0.80m", "width": "140cm", "preparation": (["washed", "none", "steamed"])[usize::from(due % 3)]},
                {"role": "front", "kind": "interlining", "length": "0.30m", "width": "80cm", "preparation": "none", "mixing": true},
                {"role": "thread", "kind": "thread", "length": "37.123m", "reels": due.is_multiple_of(2).then_some(due % 3 + 1)},
                {"role": "buttons", "kind": "trim", "count": 3, "mixing": true},
            ],
            "operation": [{"name": "sewing", "kind": "hand", "planned": "2h"}],
        })));
    }

    pub fn pieces(&self) -> Vec<String> {
        let shelf = self.book.ask::<GetShelf>(json!({"limit": 500})).unwrap();
        shelf
            .pieces
            .iter()
            .map(|piece| piece.piece.to_string())
            .collect()
    }

    fn bookings(&self) -> Vec<String> {
        let bookings = self
            .book
            .ask::<ListBookings>(json!({"limit": 500}))
            .unwrap()
            .bookings;
        bookings
            .iter()
            .map(|booking| booking.booking.to_string())
            .collect()
    }

    fn garment(&self, number: u16) -> Value {
        let planned = self
            .book
            .ask::<ListBookings>(json!({"limit": 500}))
            .unwrap();
        let count = planned
            .bookings
            .iter()
            .filter(|booking| booking.summary.starts_with("Planned"))
            .count();
        json!(format!("G{}", usize::from(number) % count.max(1) + 1))
    }

    #[expect(clippy::too_many_lines, reason = "one arm an act")]
    pub fn act(&self, (kind, a, b, c): Draw) {
        let book = &self.book;
        let garment = self.garment(a);
        let role = ["shell", "front", "thread", "buttons"][usize::from(b % 4)];
        let Some(piece) = pick(&self.pieces(), c) else {
            return self.buy(a, b, c);
        };
        let lot = piece.split('.').next().unwrap().to_owned();
        let length = format!("{}mm", u32::from(a) * 7 % 2_900 + 1);
        match kind % 24 {
            0 => self.buy(a, b, c),
            1 => self.plan(a, b),
            2 => {
                let amount = format!(
                    "{}{}.{:02}",
                    if b % 2 == 0 { "-" } else { "" },
                    a % 9,
                    c % 100
                );
                let charge = json!({"kind": "other", "amount": amount});
                fine(book.ask::<AddCharge>(
                    json!({"purchase": format!("P{}", b % 3 + 1), "charge": charge}),
                ));
            }
            3..=5 => {
                let pick = json!({"need": role, "piece": piece, "units": if a % 2 == 0 { json!(1) } else { Value::Null }});
                let until = if b % 5 == 0 {
                    json!("2026-10-12")
                } else {
                    Value::Null
                };
                fine(
                    book.ask::<Reserve>(
                        json!({"garment": garment, "picks": [pick], "until": until}),
                    ),
                );
            }
            6 => {
                if let Some(all) = fine(book.ask::<GetCandidates>(json!({"garment": garment}))) {
                    let picks: Vec<_> = all
                        .needs
                        .iter()
                        .flat_map(|need| need.picks.clone())
                        .collect();
                    fine(book.ask::<Reserve>(json!({"garment": garment, "picks": picks})));
                }
            }
            7 if a % 2 == 0 => self.repeat(&piece, b),
            7 => {
                fine(book.ask::<Release>(json!({"garment": garment})));
            }
            8 | 9 => {
                fine(
                    book.ask::<Cut>(json!({"garment": garment, "need": role, "last": a % 3 == 0})),
                );
            }
            10..=12 => {
                let reason = [
                    "planned",
                    "own-mistake",
                    "faulty-cloth",
                    "customer-change",
                    "toile",
                    "swatch",
                ][usize::from(b % 6)];
                let amount = if role == "buttons" {
                    "2".to_owned()
                } else {
                    length
                };
                let mut cut = json!({"garment": garment, "need": role, "piece": piece, "amount": amount, "reason": reason});
                match a % 7 {
                    0 => cut["panel_width"] = "30cm".into(),
                    1 => cut["end"] = "inner".into(),
                    2 => cut["at"] = format!("{}mm", c % 2_000).into(),
                    3 => cut["break_promises"] = json!([self.garment(c)]),
                    4 => cut["piece_was"] = "2.50m".into(),
                    5 => cut["keep_rest"] = json!(b % 2 == 0),
                    _ => {}
                }
                fine(book.ask::<Cut>(cut));
            }
            13 => {
                let found = json!({"piece": piece, "preparation": (["washed", "steamed"])[usize::from(b % 2)], "length": length, "really": a % 4 == 0});
                fine(book.ask::<FinishWash>(found));
            }
            14 => {
                let after = format!("{}mm", 320 + a % 40);
                let mut test = json!({"lot": lot, "preparation": "washed", "length_before": ["350mm"], "length_after": [[after]], "width_before": ["350mm"], "width_after": [["345mm"]]});
                if b % 2 == 0 {
                    test["swatch"] = json!({"piece": piece, "length": "20cm", "width": "20cm"});
                }
                fine(book.ask::<TestWash>(test));
            }
            15 => {
                fine(book.ask::<MeasurePiece>(
                    json!({"piece": piece, "found": length, "after": "resting", "really": b % 4 == 0}),
                ));
            }
            16 => {
                // Every now and then a reel weighs what it weighs empty.
                let tare = (b % 2 == 0).then(|| format!("{}g", b % 6 + 1));
                let gross = format!("{}g", a % 20 + 1);
                fine(book.ask::<WeighPiece>(json!({"piece": piece, "gross": gross, "tare": tare})));
            }
            17 => {
                fine(book.ask::<MarkFlaw>(json!({"piece": piece, "at": length, "length": if b % 2 == 0 { json!("3cm") } else { Value::Null }})));
            }
            18 => {
                fine(book.ask::<RemoveFlaw>(json!({"piece": piece, "flaw": 1})));
            }
            19 => {
                fine(book.ask::<SplitPiece>(
                    json!({"piece": piece, "take": length, "end": (["outer", "inner"])[usize::from(b % 2)]}),
                ));
            }
            20 => {
                fine(book.ask::<LogWork>(json!({"garment": garment, "operation": "sewing", "time": format!("{}min", a % 300 + 1), "reason": (["planned", "own-mistake"])[usize::from(b % 2)]})));
            }
            21 => match a % 5 {
                0 => {
                    fine(book.ask::<FinishGarment>(
                        json!({"garment": garment, "spoiled": b % 2, "spoilage": "own-mistake", "really": true}),
                    ));
                }
                1 => {
                    fine(book.ask::<DeliverGarment>(json!({"garment": garment})));
                }
                2 => {
                    let to = match b % 2 {
                        0 => json!("loss"),
                        _ => json!({"garment": self.garment(c)}),
                    };
                    fine(
                        book.ask::<CancelGarment>(json!({"garment": garment, "cut_material": to})),
                    );
                }
                3 => {
                    fine(book.ask::<CopyGarment>(json!({"garment": garment, "count": 2})));
                }
                _ => {
                    let need = json!({"role": "shell", "kind": "cloth", "length": "0.55m", "width": "120cm", "preparation": "washed"});
                    fine(book.ask::<EditGarment>(
                        json!({"garment": garment, "due": "2026-11-30", "need": [need]}),
                    ));
                }
            },
            _ => {
                if let Some(booking) = pick(&self.bookings(), if a % 2 == 0 { 0 } else { b }) {
                    fine(book.ask::<Undo>(json!({"booking": booking})));
                }
            }
        }
    }

    /// An act on the newest quotations, or a new one.
    fn quote(&self, (a, b, c): (u16, u16, u16)) {
        let (book, garment) = (&self.book, self.garment(a));
        let list = book
            .ask::<ListQuotations>(json!({"limit": 3}))
            .unwrap()
            .quotations;
        let known = pick(&list, b);
        let (code, version) = known.map_or((json!("Q1"), 1), |head| {
            (json!(head.quotation), head.version)
        });
        let until = json!((["2026-10-12", "2026-10-11", "2026-11-30"])[usize::from(c % 3)]);
        let date = json!("2026-10-11");
        match a % 8 {
            0 | 1 => {
                fine(book.ask::<MakeQuotation>(
                    json!({"garment": garment, "price": {"markup": "30%"}, "reserve": b % 2 == 0, "date": date, "valid_until": until,
                        "from": (["plan", "actual"])[usize::from(b % 5 == 0)]}),
                ));
            }
            2 => {
                fine(book.ask::<Requote>(
                    json!({"quotation": code, "reserve": b % 2 == 0, "date": date, "valid_until": until}),
                ));
            }
            3 | 4 => {
                fine(book.ask::<AcceptQuotation>(
                    json!({"quotation": code, "version": version, "reserve": b % 2 == 0, "date": date}),
                ));
            }
            5 => {
                fine(book.ask::<CloseQuotation>(json!({"quotation": code})));
            }
            6 => {
                let amount = format!("{}{}.00", if b % 4 == 0 { "-" } else { "" }, b % 90 + 1);
                fine(book.ask::<LogPayment>(
                    json!({"quotation": code, "amount": amount, "really": b % 3 == 0}),
                ));
            }
            _ => {
                let accepted = list
                    .iter()
                    .find(|head| head.state == QuotationState::Accepted);
                if let Some(head) = accepted {
                    let to = head.supplement_to.unwrap_or(head.quotation);
                    let need = json!({"role": "hood", "kind": "cloth", "length": format!("{}cm", b % 60 + 1), "width": "100cm", "preparation": "none"});
                    fine(book.ask::<EditGarment>(json!({"garment": head.garment, "need": [need]})));
                    fine(book.ask::<MakeQuotation>(
                        json!({"garment": head.garment, "supplement_to": to, "reserve": b % 2 == 0}),
                    ));
                }
            }
        }
    }

    /// The same request again gets the first answer; with other content it is refused, naming the field.
    fn repeat(&self, piece: &str, number: u16) {
        let id = uuid::Uuid::now_v7();
        let ask = |take: u16| {
            self.book
                .ask::<SplitPiece>(json!({"id": id, "piece": piece, "take": format!("{take}mm")}))
        };
        let Some(first) = fine(ask(number % 100 + 1)) else {
            return;
        };
        let again = ask(number % 100 + 1).unwrap();
        assert_eq!(json!(first), json!(again));
        let other = ask(number % 100 + 2).unwrap_err();
        assert_eq!(
            (other.kind, other.field.as_deref()),
            (ProblemType::ExistsWithDifferent, Some("take"))
        );
    }

    /// Every report can be read, and adds up.
    fn reports(&self) {
        for head in self
            .book
            .ask::<ListQuotations>(json!({"limit": 200}))
            .unwrap()
            .quotations
        {
            let shown = self
                .book
                .ask::<GetQuotation>(json!({"quotation": head.quotation}))
                .unwrap();
            let gross: i64 = shown
                .sheet
                .stages
                .iter()
                .map(|stage| cents(&stage.amount))
                .sum();
            // Nothing is to be paid of what is not priced.
            let due = if shown.sheet.to_be_priced.is_empty() {
                cents(&shown.sheet.gross)
            } else {
                0
            };
            assert_eq!(gross, due, "{shown:?}");
            let open = head.state == QuotationState::Open;
            for promise in shown
                .reservations
                .iter()
                .filter(|row| row.state == ReservationState::Active)
            {
                assert!(
                    !open || promise.until == Some(head.valid_until),
                    "an open one ends: {promise:?}"
                );
            }
        }
        let lots: std::collections::BTreeSet<String> = self
            .pieces()
            .iter()
            .map(|piece| piece.split('.').next().unwrap().to_owned())
            .collect();
        for lot in lots {
            let lot = self.book.ask::<GetLot>(json!({"lot": lot})).unwrap();
            let went: i64 = lot.value_went.iter().map(|share| share.value.get()).sum();
            assert!(
                lot.value_went.is_empty() || Some(went) == lot.landed.map(Micro::get),
                "{lot:?}"
            );
        }
        for number in 1.. {
            let code = json!({"garment": format!("G{number}")});
            if self.book.ask::<GetGarment>(code.clone()).is_err() {
                break;
            }
            let sheet = self.book.ask::<GetCost>(code.clone()).unwrap();
            adds_up(&sheet.lines, &sheet.job);
            let planned: i64 = sheet
                .lines
                .iter()
                .map(|line| cents(line.cost.planned_printed.as_deref().unwrap_or_default()))
                .sum();
            let text = sheet.job.planned_printed.as_deref();
            assert!(
                text.is_none_or(|text| planned == cents(text)),
                "{:?}",
                sheet.lines
            );
            adds_up(&sheet.losses, &sheet.loss);
            let bridge: i64 = sheet.bridge.iter().map(|step| cents(&step.printed)).sum();
            if let (Some(actual), Some(planned)) =
                (&sheet.all.actual_printed, &sheet.all.planned_printed)
            {
                assert_eq!(bridge, cents(actual) - cents(planned), "{:?}", sheet.bridge);
            }
            fine(self.book.ask::<GetCandidates>(code));
        }
    }
}

fn cents(printed: &str) -> i64 {
    if printed.is_empty() {
        0
    } else {
        printed.replace(['.', '+'], "").parse().unwrap()
    }
}

/// Printed lines add up to their printed total, where there is one.
fn adds_up(lines: &[CostLine], total: &CostPair) {
    let actual: i64 = lines
        .iter()
        .map(|line| cents(line.cost.actual_printed.as_deref().unwrap_or_default()))
        .sum();
    assert!(
        total
            .actual_printed
            .as_deref()
            .is_none_or(|text| actual == cents(text)),
        "{lines:?}"
    );
}

/// 64 cases, the same ones each time; PROPTEST_CASES and PROPTEST_RNG_SEED ask for more and others.
pub fn configuration() -> ProptestConfig {
    let asked = ProptestConfig::default();
    let usual = ProptestConfig {
        cases: 64,
        rng_seed: RngSeed::Fixed(20_261_012),
        ..asked.clone()
    };
    let chosen = match asked.rng_seed {
        RngSeed::Random => usual,
        RngSeed::Fixed(_) => asked,
    };
    ProptestConfig {
        failure_persistence: None,
        max_shrink_iters: 200,
        ..chosen
    }
}

proptest! {
    #![proptest_config(configuration())]

    #[test]
    fn the_rules_hold_over_random_histories(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 20..45)) {
        let history = History::new(average);
        for draw in draws {
            history.act(draw);
            // Beside every third act; `undone` asks for the others alone.
            if draw.3 % 3 == 0 {
                history.quote((draw.2, draw.1, draw.3));
            }
            let audit = history.book.ask::<RunAudit>(json!({})).unwrap();
            let last = history.book.ask::<ListBookings>(json!({"limit": 3})).unwrap().bookings;
            prop_assert!(audit.findings.is_empty(), "{:?} after {:#?}", audit.findings, last);
        }
        history.reports();
    }
}
