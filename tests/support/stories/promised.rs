//! Garments that want the same cloth.

use crate::Workshop;
use serde_json::{Value, json};

/// Cloth for two aprons of 2.40 m, raw and without shrinkage, and a button card; the first is due later than the second.
pub fn two() -> Workshop {
    let workshop = Workshop::new();
    let need = "--need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=none'";
    workshop.all(&[
        "buy --line 'material=sailcloth,kind=cloth,full-width=150cm,paid=6m,price=60' \
             --line 'material=button,kind=trim,paid=12,price=6'",
        &format!("garment plan apron --for 'Nell Harker' --due 2026-12-20 {need} --need 'role=buttons,kind=trim,count=4'"),
        &format!("garment plan smock --for 'Piet Dorn' --due 2026-11-02 {need}"),
    ]);
    workshop
}

/// Of each promise: garment's need, state, last day.
pub fn promises(of: &Value) -> Vec<Value> {
    let rows = of["reservations"].as_array().unwrap();
    rows.iter()
        .map(|row| json!([row["reservation"], row["state"], row["until"]]))
        .collect()
}
