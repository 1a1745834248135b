//! A coat that is paid in cash.

use crate::Workshop;
use serde_json::Value;

/// A coat at a price that is given, without tax, in francs.
pub fn coat(price: &str, stages: &str) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --currency CHF --cash-step 0.05",
        "garment plan coat --for 'Ada Brandt' --operation 'name=sewing,kind=hand,planned=1h'",
        &format!("quote make G1 --price {price} {stages}"),
        "quote accept Q1 --version 1",
    ]);
    workshop
}

pub fn standing(answer: &Value) -> [&Value; 5] {
    ["paid", "rounding", "left", "over", "due_now"].map(|field| &answer["standing"][field])
}
