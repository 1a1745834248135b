//! Cost sheet, quotation and outcome say the same of one plan.

use crate::Workshop;
use serde_json::{Value, json};

fn line(outcome: &Value, name: &str) -> Value {
    let mut lines = outcome["lines"].as_array().unwrap().iter();
    lines.find(|line| line["name"] == name).unwrap().clone()
}

fn cloth() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100'",
    ]);
    workshop
}

/// Derived: 2.00 m at 10.00 were planned, whatever is cut of them and from what.
#[test]
fn what_is_cut_without_a_promise_was_planned_as_it_was_quoted() {
    let workshop = cloth();
    workshop.all(&[
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none'",
        "quote make G1 --markup 50%",
        "quote accept Q1 --version 1",
        "cut G1 shell 2.30m --from L1.1",
    ]);
    let shell = line(&workshop.json("quote outcome Q1"), "shell");
    assert_eq!(
        [
            &shell["planned_quantity"],
            &shell["cost"]["planned_printed"]
        ],
        ["2.00 m", "20.00"]
    );
    assert_eq!(
        [&shell["actual_quantity"], &shell["cost"]["actual_printed"]],
        ["2.30 m", "23.00"]
    );
}

/// Derived: no piece is 2.00 m long, so that nothing was known of the plan; 1.90 m at 10.00 are all that was cut for it, and no
/// price leaves them out.
#[test]
fn what_nothing_was_known_of_is_planned_as_it_was_cut() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=1.90m,price=19'",
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none'",
        "cut G1 shell 1.90m --from L1.1 --last --really",
    ]);
    let quoted = workshop.json("quote make G1 --markup 0%")["inside"]["costs"][0].clone();
    assert_eq!([&quoted["name"], &quoted["printed"]], ["shell", "19.00"]);
    assert_eq!(workshop.json("cost G1")["job"]["planned_printed"], "19.00");
}

/// Derived: an estimate of 24.00 for 2 m is 12.00 a metre; 2.50 m at 10.00 are +6.00 by quantity and -5.00 by price.
#[test]
fn an_estimate_is_kept_apart_by_the_outcome_as_by_the_cost_sheet() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none,estimate=24'",
        "quote make G1 --markup 50%",
        "quote accept Q1 --version 1",
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "cut G1 shell 2.50m --from L1.1",
        "garment finish G1",
    ]);
    let bridge = workshop.json("cost G1")["bridge"].clone();
    let report = |step: &Value| (step["name"].clone(), step["printed"].clone());
    let report: Vec<(Value, Value)> = bridge.as_array().unwrap().iter().map(report).collect();
    assert_eq!(
        report,
        [
            (json!("quantity"), json!("6.00")),
            (json!("price"), json!("-5.00"))
        ]
    );
    let outcome = workshop.json("quote outcome Q1");
    let report = |step: &Value| (step["kind"].clone(), step["printed"].clone());
    let report: Vec<(Value, Value)> = outcome["variances"]
        .as_array()
        .unwrap()
        .iter()
        .map(report)
        .collect();
    assert_eq!(
        report,
        [
            (json!("material_quantity"), json!("6.00")),
            (json!("material_price"), json!("-5.00"))
        ]
    );
}

/// Derived: 4 h at 30.00 were planned as 120.00, and a minute that is logged on a day at 24.00 changes nothing of it.
#[test]
fn logging_work_leaves_the_plan_as_it_was() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24 --from 2026-09-01",
        "workshop pay-rate owner 30 --from 2026-10-01",
        "garment plan coat --operation 'name=sewing,kind=hand,planned=4h'",
    ]);
    let planned = || workshop.json("cost G1")["job"]["planned_printed"].clone();
    assert_eq!(planned(), "120.00");
    workshop.all(&["work G1 sewing 1min --date 2026-09-15"]);
    assert_eq!(planned(), "120.00");
}

/// Derived: what was planned and not cut was planned all the same.
#[test]
fn finishing_leaves_the_plan_as_it_was() {
    let workshop = cloth();
    workshop.all(&[
        "buy --line 'material=button,kind=trim,paid=5,price=5'",
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none' \
             --need 'role=buttons,kind=trim,count=5'",
        "reserve G1 --all --yes",
        "cut G1 shell",
    ]);
    let planned = || workshop.json("cost G1")["job"]["planned_printed"].clone();
    assert_eq!(planned(), "25.00");
    // The buttons are what was planned and never cut.
    workshop
        .run("garment finish G1")
        .refused(1, &["nothing is cut for its buttons", "--really"]);
    workshop.all(&["garment finish G1 --really"]);
    assert_eq!(planned(), "25.00");
}

/// Derived: one plan has one cost, whoever asks for it.
#[test]
fn an_estimate_that_the_shelf_can_serve_costs_the_same_on_both_screens() {
    let workshop = cloth();
    workshop.all(&[
        "garment plan apron --count 3 --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none,estimate=40'",
    ]);
    let planned = workshop.json("cost G1")["job"]["planned_printed"].clone();
    let quoted =
        workshop.json("quote make G1 --markup 0%")["inside"]["costs"][0]["printed"].clone();
    assert_eq!(planned, quoted);
}
