//! Garments that are quoted.

use crate::Workshop;
use serde_json::Value;

/// An apron at a given price of 100.00, 20 % tax on top, half of it on 12 October.
pub fn quoted() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=ticking,kind=cloth,full-width=150cm,paid=6m,price=60'",
        "workshop pay-rate owner 24.00 --from 2026-01-01",
        "workshop tax standard 20%",
        "garment plan apron --for 'Piet Dorn' --need 'role=shell,kind=cloth,length=1m,width=80cm,preparation=none' \
             --operation 'name=sewing,kind=machine,planned=2h'",
        "quote make G1 --price 100 --stage 'deposit=50% of gross by 2026-10-12' --stage rest --reserve",
    ]);
    workshop
}

pub fn notes(of: &Value) -> Vec<&str> {
    of["notes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|note| note.as_str().unwrap())
        .collect()
}
