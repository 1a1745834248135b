//! Overhead by the year's figures, and estimates of materials that are not promised yet.

use crate::Workshop;
use serde_json::json;

const FIGURES: &str =
    "workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%";

/// The overhead of 552 h, half of the billable ones, is half of the 9 600: the ratio was not rounded on the way.
#[test]
fn the_cost_sheet_takes_the_overhead_of_the_figures() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop overhead 5 --from 2026-10-12",
        FIGURES,
        "workshop pay-rate owner 24",
        "garment plan coat --operation 'name=sewing,kind=hand,planned=552h'",
    ]);
    let rates = &workshop.json("workshop")["overhead_rates"];
    assert_eq!(
        *rates,
        json!([{"amount": "9600", "minutes": 66_240, "from": "2026-10-12"}])
    );
    let sheet = workshop.json("cost G1");
    let overhead = sheet["lines"]
        .as_array()
        .unwrap()
        .iter()
        .find(|line| line["group"] == "overhead");
    assert_eq!(overhead.unwrap()["cost"]["planned"], "4800");
    // An overhead that is set apart from them is said, and one that says the same is not.
    assert_eq!(workshop.json("workshop figures")["notes"], json!([]));
    workshop.all(&["workshop overhead --amount 4800 --hours 552h"]);
    assert_eq!(workshop.json("workshop figures")["notes"], json!([]));
    workshop.all(&["workshop overhead 9"]);
    let note = "the cost sheet of 2026-10-12 uses another overhead rate: the one that applies from 2026-10-12";
    assert_eq!(workshop.json("workshop figures")["notes"], json!([note]));
}

/// By hand: of three vests one is wholly spoiled, so that nothing is known of what a good one takes by it.
#[test]
fn a_wholly_spoiled_batch_is_no_experience() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest",
        "work G1 sewing 2h --kind machine",
        "garment finish G1",
        "garment plan vest --count 2",
        "work G2 sewing 20h --kind machine",
        "garment finish G2 --good 0 --spoiled 2 --spoilage own-mistake",
        "garment plan vest --operation 'name=sewing,kind=machine,planned=1h'",
    ]);
    let of = workshop.json("garment estimate G3")["operations"][0].clone();
    assert_eq!(
        (&of["likely_minutes"], &of["past"]),
        (&json!(120), &json!(1))
    );
}

/// Derived: an estimate is of one garment, a typed price of the whole batch, and both say so.
#[test]
fn an_estimate_is_of_one_and_a_typed_price_of_all() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan apron --count 3 --need 'role=shell,kind=cloth,length=1m,width=1m,estimate=40.00'",
        "garment plan coat --need 'role=shell,kind=cloth,length=1m,width=1m,estimate=40.00'",
    ]);
    let line = |garment: &str| workshop.json(&format!("cost {garment}"))["lines"][0].clone();
    assert_eq!(line("G1")["cost"]["planned_printed"], "120.00");
    assert_eq!(
        (&line("G1")["detail"], &line("G2")["detail"]),
        (&json!("estimate, 3 × 40.00"), &json!("estimate"))
    );
    let made = |line: &str| workshop.json(line)["inside"]["costs"][0].clone();
    let typed = made("quote make G1 --markup 0% --material-price shell=40.00");
    assert_eq!(
        (&typed["printed"], &typed["detail"]),
        (&json!("40.00"), &json!("price given for all 3"))
    );
    let typed = made("quote make G2 --markup 0% --material-price shell=40.00");
    assert_eq!(typed["detail"], "price given");
}
