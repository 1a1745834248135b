//! `ellwand workshop pay-rate`: what hours cost, by person, by kind of work and by date.

use crate::Workshop;
use crate::stories::rates::{SHIRT, labour};
use serde_json::{Value, json};

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
    let report = workshop.run("work G1 seams 1h --person bo").done();
    assert!((report.out + &report.err).contains("bo has no pay rate on 2026-10-12"));
    let report = workshop.run("work G1 hem 1h --person bo").done();
    assert!(!(report.out + &report.err).contains("no pay rate"));
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
    let report = workshop
        .run("workshop pay-rate owner --kind fitting --from 2026-10-01 --forget")
        .done();
    assert!(
        report
            .err
            .contains("Forgot that rate of owner at fitting work."),
        "{}",
        report.err
    );
    let last = workshop.json("history --limit 1")["bookings"][0].clone();
    assert_eq!(
        (&last["booking"], &last["summary"]),
        (
            &json!("B6"),
            &json!("Removed the pay rate of owner for fitting work from 2026-10-01.")
        )
    );
    for (line, code, words) in [
        ("stitcher 20 --kind magic", 2, vec!["magic"]),
        ("stitcher", 2, vec!["PER_HOUR"]),
        ("stitcher 20 --forget", 2, vec!["cannot be used with"]),
        ("stitcher --paid --forget", 2, vec!["cannot be used with"]),
        (
            "owner 20 --kind hand --paid",
            1,
            vec!["the owner is never paid wages"],
        ),
        ("' ' 20 --kind hand", 1, vec!["the name is empty"]),
        (
            "stitcher --forget",
            1,
            vec![
                "no pay rate of stitcher from 2026-10-12 on",
                "it counts from: 2026-10-01",
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
