//! `ellwand workshop spent`: the overhead of a period.

use crate::Workshop;
use crate::stories::outcome::quoted;
use serde_json::{Value, json};

/// Applied is rate × activity, and less than was spent is under-applied (OpenStax, Principles of Accounting vol. 2, 4.4 and 4.6);
/// the figures by hand.
#[test]
fn the_overhead_of_a_period_is_held_against_what_was_spent() {
    let workshop = quoted();
    workshop.all(&[
        "workshop overhead 10 --from 2026-07-01",
        "work G1 sewing 100h --date 2026-02-03",
        "work G1 sewing 50h --date 2026-07-01 --reason own-mistake",
        "work G1 sewing 10h --date 2026-08-01 --not-billable",
        "work G1 sewing 7h --date 2026-09-01",
        "undo --yes",
        "work G1 sewing 3h --date 2025-12-31",
        "garment plan vest --operation 'name=sew,kind=hand,planned=1h'",
        "work G2 sew 4h --date 2026-03-01",
        "garment cancel G2",
    ]);
    let year = "workshop spent --from 2026-01-01 --to 2026-12-31";
    let open = workshop.json(year);
    assert_eq!(
        (&open["spent"], &open["applied"]),
        (&Value::Null, &json!("1300"))
    );
    let minutes =
        ["logged_minutes", "billable_minutes", "cancelled_minutes"].map(|field| &open[field]);
    assert_eq!(minutes, [&json!(9_600), &json!(9_000), &json!(240)]);
    let parts: Vec<&str> = open["rates"]
        .as_array()
        .unwrap()
        .iter()
        .map(|rate| rate["applied"].as_str().unwrap())
        .collect();
    assert_eq!(parts, ["800", "500"]);
    let kept = workshop.json(&format!("{year} --overhead 1420.50"));
    let spent = &kept["spent"];
    assert_eq!(
        [
            &spent["standing"],
            &spent["difference_printed"],
            &spent["rate_needed"]
        ],
        ["under", "120.50", "9.47"]
    );
    // 150 h of the 1 840 h that a year has by the figures.
    let reached = &kept["reached"];
    assert_eq!(
        [&reached["percent"], &reached["reached_percent"]],
        ["60", "8.15"]
    );
    assert_eq!(
        (&reached["worked_minutes"], &reached["billable_minutes"]),
        (&json!(110_400), &json!(66_240))
    );
    // Kept, shown again, corrected, forgotten.
    assert_eq!(workshop.json(year)["spent"], *spent);
    assert_eq!(
        workshop.json(&format!("{year} --overhead 1200"))["spent"]["standing"],
        "over"
    );
    let shown = workshop.run(year).done();
    insta::assert_snapshot!(
        "overhead_of_a_period",
        format!("{}----\n{}", shown.out, shown.err)
    );
    let half = workshop.json("workshop spent --from 2026-01-01 --to 2026-06-30");
    assert_eq!(
        (&half["applied"], &half["spent"]),
        (&json!("800"), &Value::Null)
    );
    assert_eq!(
        half["kept"],
        json!([{"from": "2026-01-01", "to": "2026-12-31", "amount": "1200"}])
    );
    assert_eq!(
        workshop.json(&format!("{year} --forget"))["kept"],
        json!([])
    );
    workshop
        .run(&format!("{year} --forget"))
        .refused(1, &["no amount spent from 2026-01-01 to 2026-12-31"]);
    // By default the year so far.
    let so_far = workshop.json("workshop spent");
    assert_eq!(
        [&so_far["from"], &so_far["to"]],
        ["2026-01-01", "2026-10-12"]
    );
    workshop.audit();
}

#[test]
fn a_period_that_cannot_be_is_refused() {
    let workshop = Workshop::new();
    let idle = workshop.json("workshop spent --from 2026-01-01 --to 2026-01-31 --overhead 100");
    let spent = &idle["spent"];
    assert_eq!([&spent["standing"], &spent["difference"]], ["under", "100"]);
    assert_eq!(
        (&spent["rate_needed"], &idle["reached"]),
        (&Value::Null, &Value::Null)
    );
    assert!(
        idle["notes"]
            .to_string()
            .contains("no billable work is logged")
    );
    for (line, code, words) in [
        (
            "--from 2026-02-01 --to 2026-01-31",
            1,
            vec!["2026-02-01 to 2026-01-31 ends before it begins"],
        ),
        (
            "--from 2026-01-01 --to 2026-01-31 --overhead -5",
            1,
            vec!["-5"],
        ),
        (
            "--from 2026-01-01 --to 2026-01-31 --overhead 'GBP 5'",
            1,
            vec!["GBP", "EUR"],
        ),
        ("--from 2026-01-01 --overhead 5", 2, vec!["--to"]),
        ("--from 2026-01-01 --to 2026-13-31", 2, vec!["2026-13-31"]),
        (
            "--from 2026-01-01 --to 2026-01-31 --overhead 5 --forget",
            2,
            vec!["cannot be used with"],
        ),
    ] {
        workshop
            .run(&format!("workshop spent {line}"))
            .refused(code, &words);
    }
    assert_eq!(
        workshop.json("workshop spent")["kept"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
}
