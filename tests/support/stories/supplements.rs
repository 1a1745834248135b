//! A coat that was agreed to.

use super::planned;
use crate::Workshop;
use serde_json::{Value, json};

/// A jacket: sewing 7 h, hem 2 h, a shell of 2.55 m at 22.00, six buttons at 0.85, agreed at a markup of 50 % with 20 % tax.
/// Hours at 27.173913 and 8.695652 (30 000 and 9 600 over 1 104 h: OpenStax, Principles of Accounting vol. 2, 4.4 for the
/// overhead rate; common practice for the pay).
pub fn agreed() -> Workshop {
    let workshop = planned();
    workshop.all(&["quote make G1 --markup 50%", "quote accept Q1 --version 1"]);
    workshop
}

/// Of each cost behind a price: name, quantity, printed.
pub fn costs(of: &Value) -> Vec<Value> {
    let costs = of["inside"]["costs"].as_array().unwrap();
    costs
        .iter()
        .map(|cost| json!([cost["name"], cost["quantity"], cost["printed"]]))
        .collect()
}
