//! Needs that share pieces, served together.

use crate::Workshop;
use crate::stories::together::{promised, shelf};
use serde_json::Value;

/// Derived: alone each takes the shorter piece, and both can have their way.
#[test]
fn what_each_would_take_alone_is_not_said() {
    let workshop = shelf();
    workshop.all(&[
        "buy --line 'material=silk,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "garment plan coat --need 'role=body,kind=cloth,length=2m,width=70cm,preparation=none,material=silk' \
             --need 'role=sleeves,kind=cloth,length=1m,width=70cm,preparation=none,material=silk'",
    ]);
    let found = workshop.json("candidates G1");
    let notes = found["needs"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|need| need["notes"].as_array().unwrap());
    assert_eq!(notes.count(), 0, "{found}");
    workshop.all(&["reserve G1 --all --yes"]);
    assert_eq!(
        promised(&workshop)
            .iter()
            .filter(|(_, pieces)| *pieces == ["L3.1"])
            .count(),
        2
    );
}

/// Derived: 1.50 m and 4 cm are 1.54 m, 1.55 m by the step; 3.08 m hold two of the one and not of the other.
#[test]
fn rounding_up_refuses_nothing_that_fits_together() {
    let workshop = Workshop::new();
    let need = |role: &str| {
        format!("--need 'role={role},kind=cloth,length=1.50m,width=70cm,preparation=none'")
    };
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=3.08m,price=31'",
        &format!("garment plan coat {} {}", need("body"), need("lining")),
    ]);
    let free = || workshop.json("lot show L1")["pieces"][0]["free"].clone();
    let before = free();
    let made = workshop.json("reserve G1 --all --yes");
    let held: Vec<&Value> = made["reservations"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| &row["held"]["length_m"])
        .collect();
    assert_eq!(held, ["1.54", "1.54"]);
    let steps = made["reservations"][0]["steps"].to_string();
    assert!(
        !steps.contains("1.55"),
        "what is not held is not in the sum: {steps}"
    );
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(free(), before);
}
