//! `ellwand quote print`: the head of the sheet, and letters that it does not have.

use crate::Workshop;
use serde_json::{Value, json};

const NAMED: &str =
    "workshop set --name 'Slipway Workshop' --address '3 Slip Lane' --address '2450 Smallport'";

fn quoted() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan coat --for 'Ada Brandt' --operation 'name=sewing,kind=hand,planned=1h'",
        "quote make G1 --price 120",
    ]);
    workshop
}

#[test]
fn a_quotation_begins_with_who_it_is_from_and_keeps_that() {
    let workshop = quoted();
    let sender = |line: &str| workshop.json(line)["sheet"]["sender"].clone();
    assert_eq!(sender("quote show Q1"), Value::Null);
    let without = workshop.run("quote show Q1").done().out;
    assert!(
        without.starts_with("Q1, version 1"),
        "no empty heading: {without}"
    );

    let set = workshop.run(NAMED).done().out;
    assert!(
        set.contains("Slipway Workshop") && set.contains("3 Slip Lane, 2450 Smallport"),
        "{set}"
    );
    assert_eq!(
        sender("quote show Q1"),
        Value::Null,
        "the version is frozen"
    );
    let named = json!({"name": "Slipway Workshop", "address": ["3 Slip Lane", "2450 Smallport"]});
    assert_eq!(sender("quote again Q1"), named);
    let shown = workshop.run("quote show Q1").done().out;
    assert!(
        shown.starts_with("Slipway Workshop\n3 Slip Lane\n2450 Smallport\n\nQ1, version 2"),
        "{shown}"
    );

    workshop.all(&[
        "workshop set --name 'Mole and Rat'",
        "quote make G1 --price 5",
    ]);
    let renamed = json!({"name": "Mole and Rat", "address": ["3 Slip Lane", "2450 Smallport"]});
    assert_eq!(
        (sender("quote show Q1"), sender("quote show Q2")),
        (named, renamed)
    );
    workshop.all(&[
        "workshop set --name '' --address ''",
        "quote make G1 --price 5",
    ]);
    assert_eq!(sender("quote show Q3"), Value::Null);
    let settings = workshop.json("workshop");
    assert_eq!(
        (&settings["name"], &settings["address"]),
        (&Value::Null, &json!([]))
    );
    workshop.audit();
}

#[test]
fn a_heading_that_does_not_fit_a_sheet_is_refused() {
    let workshop = quoted();
    workshop.all(&[NAMED]);
    let lines: String = (1..=9)
        .map(|line| format!(" --address 'line {line}'"))
        .collect();
    let long = "x".repeat(201);
    for (line, words) in [
        (
            lines,
            "an address of 9 lines leaves no room for the quotation; 8 is the most",
        ),
        (format!(" --name {long}"), "longer than 200 letters"),
        (format!(" --address {long}"), "longer than 200 letters"),
        (" --name 'Mole\u{7}'".to_owned(), "control characters"),
    ] {
        workshop
            .run(&format!("workshop set{line}"))
            .refused(1, &[words]);
        assert_eq!(
            workshop.json("workshop")["name"],
            "Slipway Workshop",
            "{words}"
        );
    }
}

#[test]
fn letters_that_a_pdf_does_not_have_are_reported() {
    let workshop = quoted();
    let folder = tempfile::TempDir::new().unwrap();
    let print = |name: &str| {
        let pdf = folder.path().join(name);
        let (yes, pdf) = ("--yes", pdf.display().to_string());
        workshop
            .run(&format!("quote print Q1 --pdf '{pdf}' {yes}"))
            .done()
            .err
    };
    workshop.all(&["workshop set --name 'Łucja Dvořáková'", "quote again Q1"]);
    assert!(!print("plain.pdf").contains("warning"), "these it has");
    workshop.all(&["workshop set --name '布 & Ж'", "quote again Q1"]);
    let report = print("cloth.pdf");
    assert!(
        report.contains("warning: the PDF cannot show 布 Ж and has ? instead"),
        "{report}"
    );
}
