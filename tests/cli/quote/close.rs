//! `ellwand quote close`: what is kept of an order that is cancelled.

use crate::stories::options::texts;
use crate::stories::planned;

/// Labour of 322.83 and materials of 61.20, 10 % off, 20 % tax: 40 % of the labour are 40 % of 348.66 (by hand: 322.83 × 0.9 ×
/// 1.2 = 348.6564), however prices are shown.
#[test]
fn what_is_kept_of_the_labour_is_what_was_to_be_paid_for_it() {
    for shown in ["with-tax", "without-tax"] {
        let workshop = planned();
        workshop.all(&[
            &format!("workshop set --prices {shown}"),
            "quote make G1 --markup 0% --discount 10%",
            "quote accept Q1 --version 1",
            "quote pay Q1 200",
        ]);
        let closed = workshop.json("quote close Q1 --keep '40% of labour'");
        let standing = &closed["standing"];
        assert_eq!(
            texts(standing, &["kept", "returned", "not_covered"]),
            ["139.46", "60.54", "0.00"],
            "{shown}"
        );
        assert_eq!(texts(standing, &["left", "over"]), ["0.00", "0.00"]);
        let shown = workshop.run("quote show Q1").done().out;
        assert!(
            shown.contains("paid 200.00, owed") && !shown.contains("left"),
            "{shown}"
        );
        workshop.audit();
    }
}

/// By hand: 139.46 are kept by the terms, 100.00 were paid.
#[test]
fn what_is_kept_beyond_what_was_paid_is_reported() {
    let workshop = planned();
    workshop.all(&[
        "quote make G1 --markup 0% --discount 10%",
        "quote accept Q1 --version 1",
        "quote pay Q1 100",
    ]);
    let closed = workshop.json("quote close Q1 --keep '40% of labour'");
    assert_eq!(
        texts(&closed["standing"], &["kept", "returned", "not_covered"]),
        ["100.00", "0.00", "39.46"]
    );
    let note = "40% of labour is 39.46 EUR more than was paid; it is not asked for";
    assert_eq!(closed["notes"][0], note);
    let shown = workshop.run("quote show Q1").done().out;
    assert!(
        shown.contains("kept 100.00, still owed under its terms 39.46 EUR"),
        "{shown}"
    );
    workshop.audit();
}
