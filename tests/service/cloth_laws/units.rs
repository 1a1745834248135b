//! The same book in yards, inches and ounces and in the same metres and grams: every balance is equal.
//!
//! Lengths are eighths of an inch, 3 175 µm each; 1 yd = 914 400 µm = 288 of them, 1 oz = 28.349523125 g, by definition.

use super::{
    bench::{Answer, empty, metres, settings},
    cases,
    reports::{differences, reports, without},
};
use crate::book::{TestBook, ask};
use ellwand_contract::{
    ProblemType,
    cuts::Cut,
    garments::{EditGarment, PlanGarment},
    lots::{EditLot, MarkFlaw, MeasurePiece, SplitPiece, WeighPiece},
    purchases::Buy,
    reservations::{Release, Reserve},
    shelf::GetShelf,
    wash::{FinishWash, TestWash},
};
use ellwand_service::Perform;
use proptest::prelude::*;
use serde_json::{Value, json};

type Draw = (u8, u16, u16, u16);

/// Texts for people, which hold the units that are read.
const TEXTS: [&str; 15] = [
    "steps",
    "notes",
    "amount",
    "conditions",
    "paid",
    "because",
    "reason",
    "ended_because",
    "planned_quantity",
    "actual_quantity",
    "advice",
    "stiffness",
    "turning",
    "detail",
    "near",
];

#[derive(Debug, Clone, Copy, PartialEq)]
enum System {
    Metric,
    Imperial,
}

impl System {
    /// So many eighths of an inch, in one of several spellings.
    fn length(self, eighths: u16, spelling: u16) -> String {
        let eighths = i64::from(eighths);
        let um = eighths * 3_175;
        match (self, spelling % 3) {
            (Self::Metric, 0) => metres(um),
            (Self::Metric, 1) => format!("{}.{:04} cm", um / 10_000, um % 10_000),
            (Self::Metric, _) => format!("{},{:03}0mm", um / 1_000, um % 1_000),
            (Self::Imperial, 0) => format!("{} {}/8 in", eighths / 8, eighths % 8),
            (Self::Imperial, 1) => format!(
                "{} yd {} {}/8\"",
                eighths / 288,
                eighths % 288 / 8,
                eighths % 8
            ),
            (Self::Imperial, _) => format!("{eighths}/288 yd"),
        }
    }

    fn ounces(self, ounces: u16) -> String {
        // In billionths of a gram.
        let exact = u64::from(ounces) * 28_349_523_125;
        match self {
            Self::Metric => format!("{}.{:09}g", exact / 1_000_000_000, exact % 1_000_000_000),
            Self::Imperial => format!("{ounces} oz"),
        }
    }

    /// Ounces a square yard. The book keeps whole milligrams a square metre, the nearest ones.
    fn mass(self, ounces: u16) -> String {
        let exact = u128::from(ounces) * 2_834_952_312_500;
        let mg = (exact * 2 + 83_612_736) / (2 * 83_612_736);
        match self {
            Self::Metric => format!("{}.{:03}gsm", mg / 1_000, mg % 1_000),
            Self::Imperial => format!("{ounces}oz/yd2"),
        }
    }

    fn book(self, (step, allowance, offcut): (u16, u16, u16)) -> TestBook {
        let book = empty();
        let units = if self == Self::Metric {
            "metric"
        } else {
            "imperial"
        };
        settings(
            &book,
            json!({"units": units, "cutting_step": self.length(step, 0), "end_allowance": self.length(allowance, 1),
                "offcut_length": self.length(offcut, 2), "offcut_width": self.length(offcut / 2 + 1, 0)}),
        );
        self.act(&book, (0, 2_000, 7, 3)).unwrap();
        self.act(&book, (1, 0, 300, 360)).unwrap();
        book
    }

    fn buy(self, (a, b, c): (u16, u16, u16)) -> Value {
        let mut cloth = json!({"kind": "cloth", "name": (["linen", "twill"])[usize::from(b % 2)], "full_width": self.length(400 + b % 150, b),
            "selvedges": self.length(c % 12, a), "mass": self.mass(b % 14 + 3)});
        if c % 3 != 0 {
            cloth["shrinkage"] =
                json!({"length": format!("{}.{}%", c % 9, b % 10), "width": format!("{}%", c % 4)});
        } else {
            cloth["fibres"] = json!([{"fibre": "flax", "share": "100%"}]);
        }
        let paid = if a % 4 == 0 {
            self.ounces(a % 60 + 5)
        } else {
            self.length(a % 3_000 + 300, c)
        };
        json!({"line": [{"material": cloth, "paid": paid, "price": format!("{}.{:02}", a % 90, b % 100)}]})
    }

    fn need(self, (a, b, c): (u16, u16, u16)) -> Value {
        let preparation = (["washed", "none", "steamed", "washed x2"])[usize::from(c % 4)];
        let mut need = json!({"role": "shell", "kind": "cloth", "preparation": preparation, "mixing": a % 2 == 0});
        match a % 5 {
            0 => {
                need["widths"] = json!([
                    {"width": self.length(360, b), "length": self.length(b % 700 + 60, a)},
                    {"width": self.length(c % 300 + 100, a), "length": self.length(b % 700 + 200, c)},
                ])
            }
            _ => {
                need["length"] = self.length(b % 700 + 60, c).into();
                need["width"] = self.length(c % 450 + 30, b).into();
            }
        }
        match b % 5 {
            0 => need["mass_max"] = self.mass(a % 14 + 4).into(),
            1 => need["mass_min"] = self.mass(a % 10 + 1).into(),
            2 => need["longest_part"] = self.length(b % 200 + 30, a).into(),
            _ => {}
        }
        need
    }

    /// An act made of drawn numbers: the same in either system.
    fn act(self, book: &TestBook, (kind, a, b, c): Draw) -> Answer<Value> {
        let pieces = book.ask::<GetShelf>(json!({"limit": 500})).unwrap().pieces;
        let piece = match usize::from(c).checked_rem(pieces.len()) {
            Some(number) => pieces[number].piece.to_string(),
            None => "L1.1".to_owned(),
        };
        let lot = piece.split('.').next().unwrap().to_owned();
        let garment = format!("G{}", a % 3 + 1);
        let some = self.length(a % 900 + 1, b);
        match kind % 14 {
            0 => asked::<Buy>(book, self.buy((a, b, c))),
            1 => asked::<PlanGarment>(
                book,
                json!({"name": "vest", "count": b % 3 + 1, "need": [self.need((a, b, c))]}),
            ),
            2..=4 => {
                let units = if b.is_multiple_of(2) {
                    json!(1)
                } else {
                    Value::Null
                };
                asked::<Reserve>(
                    book,
                    json!({"garment": garment, "picks": [{"need": "shell", "piece": piece, "units": units}]}),
                )
            }
            5 => asked::<Release>(book, json!({"garment": garment})),
            6 => asked::<Cut>(
                book,
                json!({"garment": garment, "need": "shell", "really": true, "last": b % 2 == 0}),
            ),
            7 => {
                let mut cut = json!({"garment": garment, "need": "shell", "piece": piece, "amount": some, "really": true});
                match b % 4 {
                    0 => cut["panel_width"] = self.length(c % 500 + 1, a).into(),
                    1 => cut["at"] = self.length(c % 500, a).into(),
                    2 => cut["piece_was"] = self.length(c % 500 + 800, a).into(),
                    _ => {}
                }
                asked::<Cut>(book, cut)
            }
            8 => asked::<SplitPiece>(
                book,
                json!({"piece": piece, "take": some, "end": (["outer", "inner"])[usize::from(b % 2)]}),
            ),
            9 => {
                let length = if b % 2 == 0 {
                    json!(self.length(c % 9, a))
                } else {
                    Value::Null
                };
                asked::<MarkFlaw>(book, json!({"piece": piece, "at": some, "length": length}))
            }
            10 => {
                let found = self.length(a % 2_000 + 200, c);
                asked::<MeasurePiece>(
                    book,
                    json!({"piece": piece, "found": found, "width": self.length(420, b), "after": "resting", "really": true}),
                )
            }
            11 => asked::<WeighPiece>(
                book,
                json!({"piece": piece, "gross": self.ounces(a % 60 + 2), "tare": self.ounces(b % 2), "really": true}),
            ),
            12 => {
                let (before, after) = (self.length(144, a), self.length(144 - b % 12, c));
                asked::<TestWash>(
                    book,
                    json!({"lot": lot, "preparation": "washed", "length_before": [before], "length_after": [[after]],
                    "width_before": [self.length(144, b)], "width_after": [[self.length(144 - c % 6, a)]]}),
                )
            }
            _ if b % 3 == 0 => asked::<EditLot>(
                book,
                json!({"lot": lot, "sheet": {"full_width": self.length(420 + a % 99, c), "mass": self.mass(a % 12 + 3)}}),
            ),
            _ if b % 3 == 1 => asked::<EditGarment>(
                book,
                json!({"garment": garment, "need": [self.need((a, b, c))]}),
            ),
            _ => asked::<FinishWash>(
                book,
                json!({"piece": piece, "preparation": (["washed", "steamed"])[usize::from(a % 2)], "length": self.length(a % 2_000 + 200, c), "really": true}),
            ),
        }
    }
}

fn asked<A: Perform>(book: &TestBook, request: Value) -> Answer<Value> {
    ask::<A>(&book.book, request).map(|answer| json!(answer))
}

proptest! {
    #![proptest_config(cases(8))]

    #[test]
    fn a_book_in_yards_is_the_book_in_metres(
        rule in (1_u16..40, 0_u16..20, 1_u16..120), draws in prop::collection::vec(any::<Draw>(), 10..40)
    ) {
        let (metric, imperial) = (System::Metric.book(rule), System::Imperial.book(rule));
        for draw in draws {
            let (one, other) = (System::Metric.act(&metric, draw), System::Imperial.act(&imperial, draw));
            let kind = |answer: &Answer<Value>| answer.as_ref().err().map(|problem| problem.kind);
            prop_assert_eq!(kind(&one), kind(&other), "{:?} and {:?}", one, other);
            prop_assert!(kind(&one) != Some(ProblemType::Internal), "{:?}", one);
        }
        let [mut one, mut other] = [&metric, &imperial].map(|book| Value::Object(reports(book)));
        without(&mut one, &TEXTS);
        without(&mut other, &TEXTS);
        let found = differences("", &one, &other);
        prop_assert!(found.is_empty(), "{}", found.join("\n"));
    }
}
