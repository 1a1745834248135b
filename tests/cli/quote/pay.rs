//! `ellwand quote pay`: cash that comes in steps.

use crate::Workshop;
use crate::stories::cash::{coat, standing};
use serde_json::{Value, json};

/// Half up to the step of CHF 0.05 (step by CLDR; derived): 12.32 is 12.30, 12.33 is 12.35, on the sheet and when it is paid.
#[test]
fn stages_paid_in_cash_are_settled_and_the_rounding_is_shown() {
    let workshop = coat("24.65", "--stage deposit=12.32 --stage 'on delivery'");
    let sheet = &workshop.json("quote show Q1")["sheet"];
    assert_eq!(
        (&sheet["gross"], &sheet["cash"]),
        (&json!("24.65"), &json!({"step": "0.05", "gross": "24.65"}))
    );
    let stages: Vec<_> = sheet["stages"]
        .as_array()
        .unwrap()
        .iter()
        .map(|stage| (&stage["amount"], &stage["cash"]))
        .collect();
    assert_eq!(
        stages,
        [
            (&json!("12.32"), &json!("12.30")),
            (&json!("12.33"), &json!("12.35"))
        ]
    );
    let shown = workshop.run("quote show Q1").done().out;
    assert!(shown.contains("in cash, in steps of 0.05"), "{shown}");
    assert!(
        shown
            .lines()
            .any(|line| line.starts_with("deposit") && line.ends_with("12.30")),
        "{shown}"
    );

    workshop.run("quote pay Q1 12.32 --cash").refused(
        1,
        &["12.32 CHF cannot be paid in cash", "0.05 CHF", "12.30"],
    );
    let paid = workshop.run("quote pay Q1 12.30 --cash").done();
    assert!(
        paid.out.contains("in cash, 0.02 by rounding"),
        "{}",
        paid.out
    );
    assert!(
        paid.out
            .contains("paid 12.30, rounding in cash 0.02, left 12.33 (in cash 12.35)"),
        "{}",
        paid.out
    );
    assert!(
        paid.err.contains("Logged 12.30 CHF in cash on Q1."),
        "{}",
        paid.err
    );
    let all = workshop.json("quote pay Q1 12.35 --cash");
    let nothing = json!("0.00");
    assert_eq!(
        standing(&all),
        [&json!("24.65"), &Value::Null, &nothing, &nothing, &nothing]
    );
    let each: Vec<_> = all["standing"]["payments"]
        .as_array()
        .unwrap()
        .iter()
        .map(|payment| &payment["rounding"])
        .collect();
    assert_eq!(each, [&json!("0.02"), &json!("-0.02")]);
    assert_eq!(all["sheet"], *sheet, "the price is never changed by it");
    // What was rounded is taken back with the payment.
    workshop.all(&["undo --yes"]);
    assert_eq!(
        standing(&workshop.json("quote show Q1"))[..3],
        [&json!("12.30"), &json!("0.02"), &json!("12.33")]
    );
    workshop.audit();
}

#[test]
fn the_step_is_frozen_with_the_version() {
    let workshop = coat("12.32", "");
    workshop.all(&[
        "workshop set --cash-step 0.50",
        "quote make G1 --price 12.32",
    ]);
    let cash =
        |code: &str| workshop.json(&format!("quote show {code}"))["sheet"]["cash"]["gross"].clone();
    assert_eq!((cash("Q1"), cash("Q2")), (json!("12.30"), json!("12.50")));
    workshop.all(&[
        "workshop set --cash-step none",
        // The first coat is sold.
        "garment copy G1",
        "quote make G2 --price 12.32",
        "quote accept Q3 --version 1",
    ]);
    assert_eq!(cash("Q3"), Value::Null);
    assert_eq!(cash("Q1"), "12.30");
    let paid = workshop.json("quote pay Q3 12.32 --cash");
    assert_eq!(
        standing(&paid)[..3],
        [&json!("12.32"), &Value::Null, &json!("0.00")],
        "to the cent"
    );
    assert_eq!(
        (
            &paid["standing"]["payments"][0]["cash"],
            &paid["standing"]["left_cash"]
        ),
        (&json!(true), &Value::Null)
    );
    let shown = workshop.run("quote show Q3").done().out;
    assert!(!shown.contains("in steps of"), "{shown}");
}

#[test]
fn a_step_that_coins_do_not_have_is_refused() {
    let workshop = Workshop::new();
    workshop.all(&["workshop set --currency CHF --cash-step 0.05"]);
    for (line, words) in [
        (
            "--cash-step 0.03",
            vec!["cash cannot come in steps of 0.03 CHF", "none"],
        ),
        ("--cash-step 0.01", vec!["0.01 CHF"]),
        ("--cash-step 0.005", vec!["0.005", "digits"]),
        ("--cash-step 0", vec!["0.00 CHF"]),
        ("--cash-step=-0.05", vec!["-0.05"]),
        (
            "--cash-step '0.05 EUR'",
            vec!["is in EUR; the workshop's currency is CHF"],
        ),
        ("--cash-step coins", vec!["coins", "such as 0.05"]),
        (
            "--currency JPY",
            vec!["cash is paid in steps of 0.05 CHF, which JPY may not have"],
        ),
        ("--currency JPY --cash-step 0.5", vec!["0.5"]),
    ] {
        workshop
            .run(&format!("workshop set {line}"))
            .refused(1, &words);
        let settings = workshop.json("workshop");
        assert_eq!(
            (&settings["cash_step"], &settings["currency"]),
            (&json!("0.05"), &json!("CHF")),
            "{line}"
        );
    }
    assert!(
        workshop
            .run("workshop")
            .done()
            .out
            .contains("in steps of 0.05")
    );
    workshop.all(&["workshop set --currency JPY --cash-step 10"]);
    assert_eq!(workshop.json("workshop")["cash_step"], "10");
    workshop.all(&["workshop set --cash-step none"]);
    assert_eq!(workshop.json("workshop")["cash_step"], Value::Null);
    assert!(
        workshop
            .run("workshop")
            .done()
            .out
            .contains("to the minor unit")
    );
}
