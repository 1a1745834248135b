//! Promises that are made with a quotation, and who keeps theirs when not all fit.

use crate::Workshop;
use crate::stories::promised::{promises, two};
use serde_json::{Value, json};

fn states(workshop: &Workshop, garment: &str) -> Vec<Value> {
    let shown = workshop.json(&format!("garment show {garment}"));
    let needs = shown["needs"].as_array().unwrap();
    let rows = needs
        .iter()
        .flat_map(|need| need["reservations"].as_array().unwrap().clone());
    rows.map(|row| json!([row["reservation"], row["state"], row["until"]]))
        .collect()
}

/// Rule 6 of the book: accepted quotations first, then the due day. Without the acceptance the earlier due day wins.
#[test]
fn what_was_agreed_keeps_its_cloth_first() {
    for agreed in [true, false] {
        let workshop = two();
        workshop.all(&[
            "reserve G1 shell --from L1.1",
            "reserve G2 shell --from L1.1",
        ]);
        workshop.all(&["quote make G1 --markup 20%", "quote accept Q1 --version 1"]);
        if !agreed {
            workshop.all(&["quote close Q1"]);
        }
        // 6.00 m were said, 4.00 m are there: one of two.
        workshop.all(&["lot measure L1.1 4m --really"]);
        let (first, second) = (states(&workshop, "G1"), states(&workshop, "G2"));
        let (kept, broken) = if agreed {
            (&first, &second)
        } else {
            (&second, &first)
        };
        assert_eq!(
            (&kept[0][1], &broken[0][1]),
            (&json!("active"), &json!("broken")),
            "{agreed}"
        );
        workshop.audit();
    }
}

/// Taken back, the acceptance gives no preference any more; accepted again, it does.
#[test]
fn an_acceptance_that_was_taken_back_keeps_nothing_first() {
    let workshop = two();
    workshop.all(&[
        "reserve G1 shell --from L1.1",
        "reserve G2 shell --from L1.1",
        "quote make G1 --markup 20%",
        "quote accept Q1 --version 1",
        "undo --yes",
        "lot measure L1.1 4m --really",
    ]);
    assert_eq!(
        (
            &states(&workshop, "G1")[0][1],
            &states(&workshop, "G2")[0][1]
        ),
        (&json!("broken"), &json!("active"))
    );
    workshop.all(&[
        "undo --yes",
        "quote accept Q1 --version 1",
        "lot measure L1.1 4m --really",
    ]);
    let last = |garment| states(&workshop, garment).pop().unwrap()[1].clone();
    assert_eq!((last("G1"), last("G2")), (json!("active"), json!("broken")));
    workshop.audit();
}

#[test]
fn a_quotation_that_is_closed_gives_its_cloth_back() {
    let workshop = two();
    workshop.all(&["quote make G1 --markup 20% --reserve"]);
    let closed = workshop.json("quote close Q1");
    assert_eq!(
        promises(&closed)
            .iter()
            .filter(|row| row[1] == "released")
            .count(),
        2
    );
    assert_eq!(
        closed["notes"],
        json!(["what was promised with it is released: R1, R2"])
    );
    workshop.all(&["undo --yes"]);
    let open = workshop.json("quote show Q1");
    assert_eq!(open["state"], "open");
    assert_eq!(
        promises(&open),
        [
            json!(["R3", "active", "2026-11-11"]),
            json!(["R4", "active", "2026-11-11"])
        ]
    );
    // Those that were made again are kept by an acceptance, too.
    let accepted = workshop.json("quote accept Q1 --version 1");
    assert_eq!(
        promises(&accepted),
        [json!(["R3", "active", null]), json!(["R4", "active", null])]
    );
    // Of an accepted one they stay with the garment.
    workshop.all(&["quote close Q1"]);
    assert_eq!(
        states(&workshop, "G1")
            .iter()
            .filter(|row| row[1] == "active")
            .count(),
        2
    );
    workshop.audit();
}

#[test]
fn a_quotation_promises_all_or_nothing() {
    let workshop = two();
    workshop.all(&[
        "garment edit G1 --need 'role=lining,kind=cloth,length=9m,width=140cm,preparation=none'",
    ]);
    let before = workshop.dump();
    workshop
        .run("quote make G1 --markup 20% --reserve")
        .refused(1, &["nothing on the shelf serves the lining of G1"]);
    workshop
        .run("quote make G2 --markup 20% --reserve --date 2026-10-01 --valid-until 2026-10-11")
        .refused(
            1,
            &["the promises would end on 2026-10-11; today is 2026-10-12"],
        );
    assert_eq!(before, workshop.dump());
    assert_eq!(workshop.json("quote list")["quotations"], json!([]));
    // Without the lining the rest is promised; a new version takes what is open by then.
    workshop.all(&[
        "quote make G1 --markup 20%",
        "garment edit G1 --drop-need lining",
    ]);
    let again = workshop.json("quote again Q1 --reserve");
    assert_eq!(promises(&again).len(), 2);
    workshop.audit();
}

/// Its last day has passed for the reader before anyone writes; the next version does not bring it back.
#[test]
fn a_promise_whose_day_has_passed_is_not_kept() {
    let workshop = two();
    workshop.all(&[
        "quote make G2 --markup 20% --reserve --valid-until 2026-10-12",
        "quote again Q1 --date 2026-10-01 --valid-until 2026-10-11",
    ]);
    assert_eq!(
        promises(&workshop.json("quote show Q1")),
        [json!(["R1", "expired", "2026-10-11"])]
    );
    let accepted = workshop.json("quote accept Q1 --version 2 --date 2026-10-10");
    assert_eq!(
        promises(&accepted),
        [json!(["R1", "expired", "2026-10-11"])]
    );
    assert_eq!(
        accepted["notes"],
        json!(["R1 is not kept: its last day was 2026-10-11"])
    );
    workshop.all(&["undo --yes"]);
    let reserved = workshop.json("quote accept Q1 --version 2 --date 2026-10-10 --reserve");
    assert_eq!(promises(&reserved)[1], json!(["R2", "active", null]));
    workshop.audit();
}
