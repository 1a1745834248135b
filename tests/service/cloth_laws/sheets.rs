//! What may be known of how a cloth shrinks, and what is left of it after each wash.

use super::bench::{metres, with};
use crate::book::TestBook;
use ellwand_contract::wash::TestWash;
use proptest::prelude::*;
use serde_json::{Value, json};

/// A length before, and the same length after so many washes.
#[derive(Debug, Clone)]
pub struct Left {
    pub before: i64,
    /// After one wash, after two and so on; after more than these nothing changes any more.
    pub after: Vec<i64>,
}

impl Left {
    fn once(before: i64, after: i64) -> Self {
        Self {
            before,
            after: vec![after],
        }
    }

    /// What is left after so many washes, of `before`.
    pub fn at(&self, washes: usize) -> i64 {
        match washes.min(self.after.len()) {
            0 => self.before,
            washes => self.after[washes - 1],
        }
    }
}

/// How a cloth shrinks, and where that is known from.
#[derive(Debug, Clone)]
pub struct Known {
    pub lengthwise: Left,
    pub crosswise: Left,
    /// What the sheet says.
    pub sheet: Value,
    /// Readings of a swatch.
    test: Option<Value>,
}

impl Known {
    /// Tenths of a percent, as a seller states them.
    fn stated(lengthwise: i64, crosswise: i64) -> Self {
        let percent = |tenths: i64| format!("{}.{}%", tenths / 10, tenths % 10);
        Self {
            lengthwise: Left::once(1_000, 1_000 - lengthwise),
            crosswise: Left::once(1_000, 1_000 - crosswise),
            sheet: json!({"shrinkage": {"length": percent(lengthwise), "width": percent(crosswise)}}),
            test: None,
        }
    }

    /// Plain cotton: 6 % and 2.5 % (shrinkage_typical.csv, "plain woven, ordinary finish").
    pub fn typical() -> Self {
        let fibres = json!([{"fibre": "cotton", "share": "100%"}]);
        Self {
            lengthwise: Left::once(1_000, 940),
            crosswise: Left::once(1_000, 975),
            sheet: json!({"name": "cotton", "fibres": fibres, "construction": "plain"}),
            test: None,
        }
    }

    /// A swatch of 350 mm both ways, which lost so many tenths of a millimetre at each wash.
    fn tested(losses: &[(i64, i64)]) -> Self {
        let left = |of: fn(&(i64, i64)) -> i64| {
            let after = losses.iter().map(of).scan(3_500, |left, loss| {
                *left -= loss;
                Some(*left)
            });
            Left {
                before: 3_500,
                after: after.collect(),
            }
        };
        let (lengthwise, crosswise) = (left(|loss| loss.0), left(|loss| loss.1));
        let readings = |left: &Left| {
            left.after
                .iter()
                .map(|after| json!([metres(after * 100)]))
                .collect::<Vec<_>>()
        };
        let test = json!({
            "preparation": format!("washed x{}", losses.len()),
            "length_before": ["350mm"], "length_after": readings(&lengthwise),
            "width_before": ["350mm"], "width_after": readings(&crosswise),
        });
        Self {
            lengthwise,
            crosswise,
            sheet: json!({}),
            test: Some(test),
        }
    }

    /// Logs the wash test, where there is one.
    pub fn log_test(&self, book: &TestBook, lot: &str) {
        if let Some(test) = &self.test {
            book.ask::<TestWash>(with(test.clone(), &json!({"lot": lot})))
                .unwrap();
        }
    }
}

/// Stated, typical, or tested over up to four washes.
pub fn known() -> impl Strategy<Value = Known> {
    let losses = prop::collection::vec((0_i64..120, 0_i64..60), 1..5);
    prop_oneof![
        2 => (0_i64..150, 0_i64..80).prop_map(|(length, width)| Known::stated(length, width)),
        1 => Just(Known::typical()),
        3 => losses.prop_map(|losses| Known::tested(&losses)),
    ]
}
