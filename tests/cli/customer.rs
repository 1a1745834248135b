//! `ellwand customer`: taking a customer's name out of the book.

use crate::Workshop;
use serde_json::json;

const ID: &str = "0192f3a4-5b6c-7d8e-9f01-23456789abcd";

/// A shirt for a customer that was renamed once and is delivered; its quotation is paid in part.
fn delivered() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!(
            "garment plan shirt --for 'Anna Muster' --operation 'name=sewing,kind=hand,planned=5h' --id {ID}"
        ),
        "customer edit C1 --name 'Anna Beispiel' --note 'Hafengasse 3'",
        "workshop tax standard 20%",
        "quote make G1 --price 100.00",
        "quote accept Q1 --version 1",
        "quote pay Q1 100.00",
        "work G1 sewing 5h",
    ]);
    workshop
}

#[test]
fn an_erased_name_stands_nowhere_and_what_was_done_stays() {
    let workshop = delivered();
    workshop
        .run("customer erase C1 --yes")
        .refused(1, &["G1 for C1 is not delivered yet"]);
    workshop.all(&["garment finish G1", "garment deliver G1"]);
    workshop
        .run("customer erase C1 --yes")
        .refused(1, &["Q1 for C1 is not settled", "paid"]);
    workshop.all(&["quote pay Q1 20.00"]);
    workshop.run("customer erase C1").refused(2, &["--yes"]);
    let quoted = workshop.json("quote show Q1");
    let erased = workshop.json("customer erase C1 --yes");
    assert_eq!(erased["name"], "C1 (erased)");
    assert!(
        erased["requests"].as_u64().unwrap() >= 4,
        "the plan, the change, the garment's ends: {erased}"
    );
    let after = workshop.json("quote show Q1");
    for same in ["sheet", "inside", "standing"] {
        assert_eq!(after[same], quoted[same]);
    }
    assert_eq!(after["customer_name"], "C1 (erased)");
    for line in [
        "customer list",
        "garment show G1",
        "garment list",
        "history --all",
        "quote show Q1 --inside",
    ] {
        let out = workshop.run(line).done().out;
        assert!(
            !out.contains("Anna") && !out.contains("Hafengasse"),
            "{line}: {out}"
        );
    }
    assert!(workshop.run("history").done().out.contains("to C1."));
    let again = format!(
        "garment plan shirt --for 'Anna Muster' --operation 'name=sewing,kind=hand,planned=5h' --id {ID}"
    );
    workshop.run(&again).refused(1, &["its record was erased"]);
    workshop
        .run("customer erase C1 --yes")
        .refused(1, &["C1 has already been erased"]);
    workshop
        .run("customer erase C7 --yes")
        .refused(1, &["customer C7"]);
    workshop.audit();
}

#[test]
fn whose_cloth_is_here_is_needed() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=tweed,kind=cloth,full-width=150cm,paid=2m,price=0,owner=Ben'",
    ]);
    workshop
        .run("customer erase C1 --yes")
        .refused(1, &["cloth belonging to C1 is still on the shelf: L1"]);
    let listed = workshop.json("customer list");
    assert_eq!(
        listed["customers"][0]["name"],
        json!("Ben"),
        "nothing was erased"
    );
}

/// Whoever is meant is found by name, in any capitals; what was sent under that name is emptied with the rest.
#[test]
fn customers_and_suppliers_go_by_their_names() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --supplier Stall --line 'material=silk,kind=cloth,paid=1m,price=9,full-width=90cm'",
        "garment plan vest --for 'Åse Muster'",
        "garment cancel G1",
    ]);
    let edit = format!("customer edit 'ÅSE  muster' --note 'Hafengasse 3' --id {ID}");
    assert!(workshop.run(&edit).done().err.contains("Changed C1."));
    workshop.all(&["supplier edit stall --note 'closed on Mondays'"]);
    workshop
        .run("supplier edit Stal --note small")
        .refused(1, &["supplier called \"Stal\"", "did you mean Stall?"]);
    workshop
        .run("customer erase Ase --yes")
        .refused(1, &["customer called \"Ase\"", "ellwand customer list"]);
    workshop.all(&["customer erase 'Åse Muster' --yes"]);
    workshop.run(&edit).refused(1, &["its record was erased"]);
    workshop.audit();
}
