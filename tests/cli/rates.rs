//! What hours cost: by person, by kind of work, by date.

use crate::workshop::Workshop;
use serde_json::{Value, json};

/// Three operations of a stitcher: an hour at the machine, an hour of cutting, two hours by hand.
const SHIRT: &str = "garment plan shirt --operation 'name=seams,kind=machine,planned=1h,person=stitcher' \
     --operation 'name=cut,kind=cutting,planned=1h,person=stitcher' \
     --operation 'name=hem,kind=hand,planned=2h,person=stitcher'";

fn labour(sheet: &Value) -> Vec<(String, String, String)> {
    let lines = sheet["lines"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|line| line["group"] == "labour");
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    lines
        .map(|line| {
            (
                text(&line["name"]),
                text(&line["cost"]["planned"]),
                text(&line["cost"]["actual"]),
            )
        })
        .collect()
}

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

/// Hours keep the rate of their day, and the day before the change is not touched by it (common practice).
#[test]
fn past_hours_keep_the_rate_of_their_day() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate stitcher 15 --paid --from 2026-10-01",
        "workshop pay-rate stitcher 18 --kind hand --from 2026-10-08",
        SHIRT,
        "work G1 hem 1h --person stitcher --date 2026-10-07",
        "work G1 hem 1h --person stitcher --date 2026-10-08",
    ]);
    let sheet = workshop.json("cost G1");
    // The plan is priced as on the day on which work was first logged, whatever day it was of: 2 × 18. Worked: 15 + 18.
    assert_eq!(labour(&sheet)[2], ("hem".into(), "36".into(), "33".into()));
    workshop.all(&["workshop pay-rate stitcher --kind hand --from 2026-10-08 --forget"]);
    assert_eq!(labour(&workshop.json("cost G1"))[2].2, "30");
    // What is worked at a kind that has no rate, by someone who has none for all work, is said and not priced.
    workshop.all(&["workshop pay-rate bo 20 --paid --kind hand --from 2026-10-01"]);
    let told = workshop.run("work G1 seams 1h --person bo").done();
    assert!((told.out + &told.err).contains("bo has no pay rate on 2026-10-12"));
    let told = workshop.run("work G1 hem 1h --person bo").done();
    assert!(!(told.out + &told.err).contains("no pay rate"));
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

#[test]
fn rates_are_listed_set_again_and_forgotten() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate stitcher 19.50 --paid --from 2026-10-01",
        "workshop pay-rate stitcher 20 --kind hand --from 2026-10-01",
        "workshop pay-rate stitcher 21.00 --kind hand --from 2026-10-01",
        "workshop pay-rate owner 30 --kind fitting --from 2026-10-01",
    ]);
    let rates = |answer: &Value| -> Vec<Value> { answer["pay_rates"].as_array().unwrap().clone() };
    let row = |person: &str, kind: Value, per_hour: &str, paid: bool| json!({"person": person, "kind": kind, "per_hour": per_hour, "paid": paid, "from": "2026-10-01"});
    let all = [
        row("owner", json!("fitting"), "30.00", false),
        row("stitcher", Value::Null, "19.50", true),
        row("stitcher", json!("hand"), "21.00", true),
    ];
    assert_eq!(rates(&workshop.json("workshop")), all);
    let shown = workshop.run("workshop").done().out;
    assert!(
        shown
            .lines()
            .any(|line| line.starts_with("stitcher, hand work") && line.contains("21")),
        "{shown}"
    );
    let gone = workshop.json("workshop pay-rate stitcher --kind hand --from 2026-10-01 --forget");
    assert_eq!(rates(&gone), all[..2]);
    let told = workshop
        .run("workshop pay-rate owner --kind fitting --from 2026-10-01 --forget")
        .done();
    assert!(
        told.err
            .contains("That rate of owner at fitting work is forgotten."),
        "{}",
        told.err
    );
    assert_eq!(
        workshop.json("history")["bookings"],
        json!([]),
        "settings are not booked"
    );
    for (line, code, words) in [
        ("stitcher 20 --kind magic", 2, vec!["magic"]),
        ("stitcher", 2, vec!["PER_HOUR"]),
        ("stitcher 20 --forget", 2, vec!["cannot be used with"]),
        ("stitcher --paid --forget", 2, vec!["cannot be used with"]),
        (
            "owner 20 --kind hand --paid",
            1,
            vec!["the owner's hours are never wages"],
        ),
        ("' ' 20 --kind hand", 1, vec!["the name is empty"]),
        (
            "stitcher --forget",
            1,
            vec![
                "no pay rate of stitcher from 2026-10-12 on",
                "from which it counts: 2026-10-01",
            ],
        ),
        (
            "stitcher --kind hand --forget",
            1,
            vec![
                "no pay rate of stitcher for hand work",
                "see ellwand workshop",
            ],
        ),
    ] {
        workshop
            .run(&format!("workshop pay-rate {line}"))
            .refused(code, &words);
        assert_eq!(rates(&workshop.json("workshop")), all[1..2], "{line}");
    }
    workshop.all(&["workshop close 2026-10-01 --yes"]);
    for line in [
        "stitcher 20 --kind hand --from 2026-10-01",
        "stitcher --from 2026-10-01 --forget",
    ] {
        workshop
            .run(&format!("workshop pay-rate {line}"))
            .refused(1, &["closed up to 2026-10-01"]);
    }
    assert_eq!(rates(&workshop.json("workshop")), all[1..2]);
}
