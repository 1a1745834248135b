//! `ellwand garment cancel`: a garment that is given up.

use crate::stories::quotations::{notes, quoted};
use serde_json::json;

#[test]
fn a_garment_is_given_up_with_its_open_quotation_only() {
    let workshop = quoted();
    let cancelled = workshop.json("garment cancel G1");
    assert_eq!(notes(&cancelled)[0], "closed with it: Q1");
    assert_eq!(workshop.json("quote show Q1")["state"], "closed");
    workshop.all(&["undo --yes"]);
    let open = workshop.json("quote show Q1");
    assert_eq!(
        (&open["state"], &open["reservations"][0]["state"]),
        (&json!("open"), &json!("active"))
    );
    assert_eq!(
        open["reservations"][0]["until"], "2026-11-11",
        "as long as before"
    );
    workshop.all(&["quote accept Q1 --version 1"]);
    let before = workshop.dump();
    workshop.run("garment cancel G1").refused(
        1,
        &[
            "Q1 is accepted for G1",
            "ellwand quote close Q1 --keep '100% of materials'",
        ],
    );
    assert_eq!(before, workshop.dump());
    workshop.all(&["quote close Q1", "garment cancel G1"]);
    assert!(workshop.run("shelf").done().out.contains("6.00 m  6.00 m"));
    workshop.audit();
}
