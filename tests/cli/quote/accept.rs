//! `ellwand quote accept`: materials are promised, payments are logged, and all of it is taken back.

use crate::stories::options::texts;
use crate::stories::planned;
use serde_json::{Value, json};

#[test]
fn a_quotation_is_accepted_with_its_materials_paid_and_taken_back() {
    let workshop = planned();
    workshop.all(&["quote make G1 --margin 35%", "quote again Q1 --margin 40%"]);
    workshop
        .run("quote accept Q1 --version 1")
        .refused(1, &["version 1 of Q1 was replaced by version 2"]);
    let accepted = workshop.json("quote accept Q1 --version 2 --reserve");
    let pieces: Vec<&str> = accepted["reservations"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["piece"].as_str().unwrap())
        .collect();
    assert_eq!(
        (&accepted["state"], pieces),
        (&json!("accepted"), vec!["L1.1", "L2.1"])
    );
    workshop
        .run("quote accept Q1 --version 2")
        .refused(1, &["accepted already, in B7 by owner"]);
    workshop
        .run("quote again Q1")
        .refused(1, &["Q1 is accepted"]);
    let paid = workshop.json("quote pay Q1 300 --note cash");
    let gross = paid["sheet"]["gross"].as_str().unwrap().to_owned();
    assert_eq!(
        texts(&paid["standing"], &["paid", "owed", "over"]),
        ["300.00", "300.00", "0.00"]
    );
    workshop.run("quote pay Q1 -301").refused(1, &["paid"]);
    workshop.run("undo B7 --yes").refused(
        1,
        &["Q1 has a payment", "take that back first: ellwand undo B"],
    );
    let cancelled = workshop.json("quote close Q1 --keep '100.00'");
    assert_eq!(
        texts(&cancelled["standing"], &["kept", "returned"]),
        ["100.00", "200.00"]
    );
    workshop
        .run(&format!("quote close Q1 --keep {gross}"))
        .refused(1, &["Q1 is already cancelled"]);
    workshop.all(&["undo B9 --yes", "undo B8 --yes", "undo B7 --yes"]);
    let open = workshop.json("quote show Q1");
    assert_eq!(
        (&open["state"], &open["accepted"]),
        (&json!("open"), &Value::Null)
    );
    assert!(
        workshop.run("shelf").done().out.contains("6.00 m  6.00 m"),
        "nothing is promised any more"
    );
    workshop
        .run("quote close Q1 --keep 5")
        .refused(1, &["never accepted"]);
    assert_eq!(workshop.json("quote close Q1")["state"], "closed");
    workshop
        .run("quote accept Q1 --version 2")
        .refused(1, &["Q1 is closed"]);
    workshop.audit();
}
