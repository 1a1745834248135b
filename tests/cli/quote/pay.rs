//! `ellwand quote pay`: stages, what is logged twice, cash that comes in steps.

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
        paid.err
            .contains("Logged 12.30 CHF in cash on Q1; 12.33 CHF is still to be paid."),
        "{}",
        paid.err
    );
    // 24.65 agreed less 12.30 paid and 0.02 of rounding leaves 12.33.
    let receipt = workshop.run("quote receipt Q1").done().out;
    assert!(
        receipt.contains(
            "paid 12.30 of 24.65 CHF with it, rounding in cash 0.02, 12.33 still to be paid"
        ),
        "{receipt}"
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

/// By hand: clasps of 72.00 and 2 h at 24.00, half as much again: 108.00 and 72.00, with 20 % tax 129.60 and 86.40.
fn clasps(stages: &str) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=clasp,kind=trim,paid=6,price=72'",
        "workshop pay-rate owner 24.00",
        "workshop tax VAT 20%",
        "garment plan belt --need 'role=clasps,kind=trim,count=6' --operation 'name=sewing,kind=hand,planned=2h'",
        &format!("quote make G1 --markup 50% {stages}"),
        "quote accept Q1 --version 1",
    ]);
    workshop
}

#[test]
fn a_stage_is_what_is_paid_for_materials_and_says_whether_it_is_paid() {
    let workshop = clasps(
        "--stage 'clasps=materials with tax' --stage 'half=50% of labour with tax' --stage rest",
    );
    let shown = workshop.run("quote show Q1").done().out;
    assert!(
        shown.contains("clasps 129.60 is open, half 43.20 is open, rest 43.20 is open"),
        "{shown}"
    );
    let paid = workshop.run("quote pay Q1 140.00").done();
    assert!(
        paid.err
            .contains("Logged 140.00 EUR on Q1; 76.00 EUR is still to be paid."),
        "{}",
        paid.err
    );
    let stages = workshop.json("quote show Q1")["standing"]["stages"].clone();
    assert_eq!(
        stages,
        json!([
            {"name": "clasps", "amount": "129.60", "paid": "129.60"},
            {"name": "half", "amount": "43.20", "paid": "10.40"},
            {"name": "rest", "amount": "43.20", "paid": "0.00"}
        ])
    );
    let shown = workshop.run("quote show Q1").done().out;
    assert!(
        shown.contains("clasps is paid, half: 10.40 of 43.20 is paid, rest 43.20 is open"),
        "{shown}"
    );
    let all = workshop.run("quote pay Q1 76.00").done().err;
    assert!(
        all.contains("Logged 76.00 EUR on Q1; all of it is paid."),
        "{all}"
    );
    workshop
        .run("quote make G1 --stage 'cloth=cloth with tax' --try")
        .refused(
            1,
            &[
                "\"cloth with tax\" is not a part of a price",
                "materials-with-tax",
            ],
        );
    workshop.audit();
}

#[test]
fn what_looks_like_a_slip_is_asked_about() {
    let workshop = clasps("");
    workshop.all(&["quote pay Q1 40.00"]);
    workshop.run("quote pay Q1 40").refused(
        1,
        &[
            "40.00 EUR was already logged on Q1, for 2026-10-12 (B",
            "--really",
        ],
    );
    workshop
        .run("quote pay Q1 40 --date 2026-10-11")
        .refused(1, &["already logged"]);
    // Other amounts, other days, and what was confirmed.
    workshop.all(&[
        "quote pay Q1 40.01",
        "quote pay Q1 40 --date 2026-10-10",
        "quote pay Q1 40 --really",
        "undo --yes",
        "quote pay Q1 -40",
    ]);
    workshop.run("workshop tax luxury 250%").refused(
        1,
        &["a tax of 250% is more than half of the price", "--really"],
    );
    workshop.all(&["workshop tax luxury 250% --really", "workshop tax high 50%"]);
    workshop.audit();
}
