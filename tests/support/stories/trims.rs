//! Cards of buttons.

use crate::Workshop;
use serde_json::Value;

/// Brown horn buttons on two cards of one lot (4 and 3), and others.
pub fn cards() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --supplier 'Quay Haberdashery' --line 'material=horn button,kind=trim,size=24L,colour=brown,paid=7,price=14.00,dye-lot=H3'",
        "lot split L1.1 3 --end inner",
        "buy --line 'material=wood button,kind=trim,size=24L,colour=black,paid=6,price=3.00'",
        "buy --line 'material=corozo button,kind=trim,size=26L,colour=brown,paid=12,price=6.00'",
        "buy --line 'material=shell button,kind=trim,size=15mm,colour=Brown,paid=5,price=5.00'",
    ]);
    workshop
}

pub fn need(workshop: &Workshop, garment: &str) -> Value {
    workshop.json(&format!("garment show {garment}"))["needs"][0].clone()
}

pub fn picks(workshop: &Workshop, garment: &str) -> Vec<(String, Value, Value)> {
    let found = workshop.json(&format!("candidates {garment}"))["needs"][0].clone();
    let pick = |pick: &Value| {
        (
            pick["piece"].as_str().unwrap().to_owned(),
            pick["units"].clone(),
            pick["trims"].clone(),
        )
    };
    found["picks"]
        .as_array()
        .unwrap()
        .iter()
        .map(pick)
        .collect()
}
