//! Needs that share pieces.

use crate::Workshop;
use serde_json::Value;

/// A shelf of two cloths.
pub fn shelf() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3.1m,price=31' \
         --line 'material=cotton,kind=cloth,full-width=150cm,paid=2.1m,price=21'",
    ]);
    workshop
}

/// Of each need: role and the pieces it is promised.
pub fn promised(workshop: &Workshop) -> Vec<(String, Vec<String>)> {
    let shown = workshop.json("garment show G1");
    let text = |value: &Value| value.as_str().unwrap().to_owned();
    let of = |need: &Value| {
        let rows = need["reservations"].as_array().unwrap().iter();
        let rows = rows.filter(|row| row["state"] == "active");
        (
            text(&need["role"]),
            rows.map(|row| text(&row["piece"])).collect(),
        )
    };
    let mut needs: Vec<_> = shown["needs"].as_array().unwrap().iter().map(of).collect();
    needs.sort();
    needs
}
