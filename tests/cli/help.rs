//! The whole reference of the command line, so that a change of help shows in review.

use crate::workshop::Workshop;

const COMMANDS: &[&str] = &[
    "",
    "buy",
    "buy charge",
    "buy list",
    "buy show",
    "customer list",
    "customer edit",
    "material list",
    "material edit",
    "supplier list",
    "supplier edit",
    "workshop",
    "workshop set",
    "workshop pay-rate",
    "workshop overhead",
    "workshop figures",
    "workshop spent",
    "workshop tax-reclaim",
    "operation list",
    "operation set",
    "operation forget",
    "garment plan",
    "garment list",
    "garment show",
    "garment promises",
    "garment seams",
    "garment edit",
    "garment copy",
    "garment estimate",
    "garment finish",
    "garment deliver",
    "garment rate",
    "garment cancel",
    "seam",
    "candidates",
    "reserve",
    "release",
    "cut",
    "work",
    "cost",
    "quote outcome",
    "details",
    "demo",
    "shelf",
    "lot show",
    "lot edit",
    "lot place",
    "lot flaw",
    "lot flaw-remove",
    "lot split",
    "lot measure",
    "lot weigh",
    "lot stiffness",
    "thread-count",
    "help",
    "wash test",
    "wash done",
    "history",
    "undo",
    "audit",
    "completions",
];

#[test]
fn the_reference_is_reviewed() {
    let workshop = Workshop::new();
    let mut reference = String::new();
    for command in COMMANDS {
        let help = workshop.run(&format!("{command} --help")).done().out;
        reference.push_str(&format!("$ ellwand {command} --help\n{help}\n"));
    }
    insta::assert_snapshot!("reference", reference);
}
