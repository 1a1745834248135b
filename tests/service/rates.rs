//! What hours cost: by person, by kind of work, by date.

use crate::Workshop;
use crate::stories::rates::{SHIRT, labour};
use serde_json::{Value, json};

/// Whether hours are wages is said for the person, before or after the rate of a kind of work.
#[test]
fn hours_are_wages_whichever_rate_was_set_first() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate stitcher 18 --kind hand --from 2026-10-01",
        "workshop pay-rate stitcher 15 --paid --from 2026-10-01",
        SHIRT,
    ]);
    let priced = workshop.json("quote make G1 --markup 0%");
    let costs = priced["inside"]["costs"].as_array().unwrap();
    let groups: Vec<&Value> = costs.iter().map(|cost| &cost["group"]).collect();
    assert_eq!(groups, ["paid labour", "paid labour", "paid labour"]);
    assert_eq!(priced["inside"]["own_minutes"], 0);
}

/// 15 + 15 + 2 × 18 = 66 (OpenStax, Principles of Accounting vol. 2, 4.2 and 4.5, job MAC001), in the plan, in what was worked,
/// and in a quotation from either.
#[test]
fn a_rate_for_a_kind_of_work_goes_before_the_one_for_all() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate stitcher 15 --paid --from 2026-10-01",
        "workshop pay-rate stitcher 18 --kind hand --from 2026-10-01",
        // A newer rate for all work leaves the narrower one as it is.
        "workshop pay-rate stitcher 15.00 --paid --from 2026-10-05",
        SHIRT,
    ]);
    let row =
        |name: &str, planned: &str, actual: &str| (name.into(), planned.into(), actual.into());
    let planned = labour(&workshop.json("cost G1"));
    assert_eq!(
        planned,
        [
            row("seams", "15", "0"),
            row("cut", "15", "0"),
            row("hem", "36", "0")
        ]
    );
    let priced = workshop.json("quote make G1 --markup 0%");
    assert_eq!(priced["sheet"]["net"], "66.00");
    workshop.all(&[
        "work G1 seams 1h --person stitcher",
        "work G1 cut 1h --person stitcher",
        "work G1 hem 2h --person stitcher",
    ]);
    let sheet = workshop.json("cost G1");
    assert_eq!(
        labour(&sheet),
        [
            row("seams", "15", "15"),
            row("cut", "15", "15"),
            row("hem", "36", "36")
        ]
    );
    assert_eq!(
        (&sheet["all"]["actual"], &sheet["bridge"]),
        (&json!("66"), &json!([]))
    );
    assert_eq!(
        workshop.json("quote make G1 --markup 0% --from actual")["sheet"]["net"],
        "66.00"
    );
    let inside = &workshop.json("quote show Q1")["inside"];
    assert!(
        inside["costs"]
            .as_array()
            .unwrap()
            .iter()
            .all(|cost| cost["group"] == "paid labour"),
        "{inside}"
    );
    workshop.audit();
}

/// The year's figures come to 27.17 an hour; an owner's rate for all work stands behind them in a price, one for a kind of work
/// before them (how this program decides; no outside source).
#[test]
fn an_owners_rate_for_a_kind_of_work_goes_before_the_years_figures() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop figures --pay 30000 --overhead 0 --weeks 46 --hours 40h --billable 60%",
        "workshop pay-rate owner 24",
        "garment plan coat --operation 'name=seams,kind=machine,planned=1h' --operation 'name=hem,kind=hand,planned=1h'",
    ]);
    let own = |quotation: &Value| -> Vec<String> {
        let costs = quotation["inside"]["costs"].as_array().unwrap();
        costs
            .iter()
            .map(|cost| cost["printed"].as_str().unwrap().to_owned())
            .collect()
    };
    assert_eq!(
        own(&workshop.json("quote make G1 --markup 0%")),
        ["27.18", "27.17"],
        "54.35 in all"
    );
    workshop.all(&["workshop pay-rate owner 40 --kind hand"]);
    assert_eq!(own(&workshop.json("quote again Q1")), ["27.17", "40.00"]);
    assert_eq!(
        labour(&workshop.json("cost G1"))[0].1,
        "24",
        "the cost sheet counts by pay rates alone"
    );
}
