//! `ellwand quote make`: what a quotation says, and what it warns of.

use crate::Workshop;
use crate::stories::planned;
use crate::stories::promised::{promises, two};
use serde_json::{Value, json};

#[test]
fn an_open_quotation_holds_its_cloth_until_its_last_day() {
    let workshop = two();
    let made = workshop.json("quote make G1 --markup 20% --reserve --valid-until 2026-11-11");
    assert_eq!(
        promises(&made),
        [
            json!(["R1", "active", "2026-11-11"]),
            json!(["R2", "active", "2026-11-11"])
        ]
    );
    assert_eq!(
        made["inside"]["costs"][0]["certainty"], "measured",
        "priced from what is promised"
    );
    let shown = workshop.run("quote show Q1 --inside").done().out;
    assert!(
        shown.contains("Promised with it") && shown.contains("2026-11-11"),
        "{shown}"
    );
    // A new version lasts longer, and so do they.
    let again = workshop.json("quote again Q1 --valid-until 2026-11-30");
    assert_eq!(
        promises(&again),
        [
            json!(["R1", "active", "2026-11-30"]),
            json!(["R2", "active", "2026-11-30"])
        ]
    );
    // Accepted they have no end.
    let accepted = workshop.json("quote accept Q1 --version 2 --reserve");
    assert_eq!(
        promises(&accepted),
        [json!(["R1", "active", null]), json!(["R2", "active", null])]
    );
    assert_eq!(
        workshop.json("history")["bookings"][0]["summary"],
        "Accepted version 2 of Q1 for G1, with 2 promises."
    );
    // And back, step by step.
    workshop.all(&["undo --yes"]);
    assert_eq!(promises(&workshop.json("quote show Q1")), promises(&again));
    workshop.all(&["undo --yes"]);
    let back = workshop.json("quote show Q1");
    assert_eq!(
        (&back["version"], promises(&back)),
        (&json!(1), promises(&made))
    );
    assert_eq!(back["versions"][1]["taken_back"], true);
    workshop
        .run("quote accept Q1 --version 2")
        .refused(1, &["version 2 of Q1 was taken back", "version 1 counts"]);
    assert_eq!(
        workshop.json("quote again Q1")["version"],
        3,
        "no number twice"
    );
    workshop
        .run("undo B5 --yes")
        .refused(1, &["B5 was already taken back"]);
    workshop.all(&["undo --yes", "undo B4 --yes"]);
    let closed = workshop.json("quote show Q1");
    assert_eq!(closed["state"], "closed");
    assert_eq!(
        promises(&closed),
        [
            json!(["R1", "released", "2026-11-11"]),
            json!(["R2", "released", "2026-11-11"])
        ]
    );
    assert!(
        workshop.run("shelf").done().out.contains("6.00 m  6.00 m"),
        "nothing is promised any more"
    );
    workshop.audit();
}

/// By hand: 2 of 6 spoiled by an own mistake, 12.00 of cloth each and 6 h at 24.00 by the owner. Materials 72.00 become 48.00, own
/// labour 144.00 becomes 96.00; 24.00 of cloth are lost, and the hour earns (144.00 - 48.00 - 24.00) / 6 h = 12.00.
#[test]
fn own_time_on_spoiled_ones_is_paid_by_the_good() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=clasp,kind=trim,paid=6,price=72'",
        "workshop pay-rate owner 24.00 --from 2026-01-01",
        "garment plan belt --count 6 --need 'role=clasp,kind=trim,count=1'",
        "cut G1 clasp 6 --from L1.1",
        "work G1 sewing 6h --kind machine",
        "garment finish G1 --good 4 --spoiled 2 --spoilage own-mistake",
    ]);
    let made = workshop.json("quote make G1 --from actual --markup 0%");
    let printed: Vec<&str> = made["inside"]["costs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cost| cost["printed"].as_str().unwrap())
        .collect();
    assert_eq!(
        (printed, &made["inside"]["hour_earns"]),
        (vec!["48.00", "96.00"], &json!("12"))
    );
    assert_eq!(made["inside"]["batch"]["loss_printed"], "72.00");
    assert_eq!(made["inside"]["floor"], "144");
    let text = workshop.run("quote show Q1 --inside").done().out;
    assert!(
        text.contains("each of 4 good: cost 36.00, price 36.00 EUR; loss 72.00"),
        "{text}"
    );
}

/// Nothing on the shelf serves the canvas: it is listed, and nothing can be accepted or promised before it has a price.
#[test]
fn what_has_no_price_is_listed_and_never_taken_for_nothing() {
    let workshop = planned();
    workshop.all(&[
        "garment edit G1 --need 'role=canvas,kind=interlining,length=50cm,width=70cm,preparation=none'",
    ]);
    let made = workshop.json("quote make G1 --markup 20%");
    assert_eq!(
        made["inside"]["not_priced"],
        json!(["canvas: 0.50 m at 70 cm; nothing on the shelf serves it"])
    );
    workshop
        .run("quote accept Q1 --version 1 --reserve")
        .refused(1, &["is not an offer yet; not priced: canvas"]);
    assert_eq!(workshop.json("quote show Q1")["state"], "open");
    assert!(workshop.run("shelf").done().out.contains("6.00 m  6.00 m"));
    let priced = workshop.json("quote again Q1 --markup 20% --material-price canvas=6.50");
    assert_eq!(priced["inside"]["not_priced"], json!([]));
    workshop.audit();
}

/// A stage says that its lines are before what is taken off and added to them: materials 61.20, 10 % off and 20 % tax come later.
#[test]
fn a_stage_says_which_amount_it_is_a_share_of() {
    let workshop = planned();
    let stages = "--stage 'cloth=100% of materials' --stage 'rest'";
    let counted = |line: &str| {
        let made = workshop.json(&format!("quote make G1 --markup 0% {line} {stages}"));
        let stage = |at: usize| {
            let stage = &made["sheet"]["stages"][at];
            (stage["amount"].clone(), stage["counted"].clone())
        };
        assert_eq!(stage(1).1, Value::Null, "the rest is a share of nothing");
        stage(0)
    };
    assert_eq!(
        counted("--discount 10%"),
        (json!("61.20"), json!("before discount and tax"))
    );
    assert_eq!(counted(""), (json!("61.20"), json!("before tax")));
    assert!(
        workshop
            .run("quote show Q1")
            .done()
            .out
            .contains("100% of materials, before discount and tax")
    );
    workshop.all(&["workshop set --prices with-tax"]);
    assert_eq!(
        counted("--discount 10%"),
        (json!("73.44"), json!("before discount"))
    );
    assert_eq!(counted(""), (json!("73.44"), Value::Null));
}

/// A quotation at cost, or without its cloth, would be a present (common practice: the price is cost and profit).
#[test]
fn what_is_not_priced_as_a_whole_is_no_offer() {
    let workshop = planned();
    workshop.all(&[
        "garment edit G1 --need 'role=canvas,kind=interlining,length=50cm,width=70cm,preparation=none'",
    ]);
    let made = workshop.run("quote make G1").done();
    let report = "Made Q1, not an offer yet; not priced: canvas, the price.";
    assert!(made.err.contains(report), "{}", made.err);
    assert!(made.out.contains(" so far"), "{}", made.out);
    let shown = workshop.json("quote show Q1");
    assert_eq!(
        shown["sheet"]["to_be_priced"],
        json!(["canvas", "the price"])
    );
    assert_eq!(
        (&shown["sheet"]["stages"], &shown["standing"]["left"]),
        (&json!([]), &json!("0.00"))
    );
    assert_eq!(
        workshop.json("quote list")["quotations"][0]["is_offer"],
        false
    );
    assert!(workshop.run("quote list").done().out.contains("not priced"));
    let before = workshop.dump();
    workshop.run("quote accept Q1 --version 1").refused(
        1,
        &[
            "version 1 of Q1 is not an offer yet; not priced: canvas, the price",
            "--material-price 'canvas=12.00'",
        ],
    );
    assert_eq!(workshop.dump(), before);
    let again = workshop
        .run("quote again Q1 --material-price canvas=6.50")
        .done();
    assert!(
        again
            .err
            .contains("Made version 2 of Q1, not an offer yet; not priced: the price."),
        "{}",
        again.err
    );
    workshop.run("quote accept Q1 --version 2").refused(
        1,
        &[
            "not an offer yet; not priced: the price",
            "ellwand quote again Q1 --markup 40%",
        ],
    );
    // At cost it is sold where that is said.
    let again = workshop.json("quote again Q1 --markup 0% --material-price canvas=6.50");
    assert_eq!(again["sheet"]["to_be_priced"], json!([]));
    workshop.all(&["quote accept Q1 --version 3"]);
    assert_eq!(
        workshop.json("quote list")["quotations"][0]["is_offer"],
        true
    );
    workshop.audit();
}

#[test]
fn bad_input_makes_no_quotation() {
    let workshop = planned();
    for (line, words) in [
        (
            "--margin 100%",
            vec!["a margin of 100 %", "less than 100 %"],
        ),
        ("--margin 120%", vec!["120 %"]),
        ("--price -5", vec!["-5", "negative"]),
        ("--markup=-20%", vec!["20 %"]),
        (
            "--markup 30% --valid-until 2026-01-01",
            vec!["2026-01-01", "2026-10-12"],
        ),
        (
            "--markup 30% --stage 'a=60% of gross' --stage 'b=60% of gross'",
            vec!["up to b", "only"],
        ),
        (
            "--markup 30% --stage 'a=60% of gross' --stage 'b=30% of gross'",
            vec!["last stage"],
        ),
        (
            "--markup 30% --stage 'a=60% of cake' --stage b",
            vec!["cake"],
        ),
        ("--markup 30% --discount 110%", vec!["110 %"]),
        ("--markup 30% --tax cheap", vec!["cheap", "standard"]),
        ("--markup 30% --material-price sleeve=5", vec!["sleeve"]),
        ("--markup 30% --round-up 0", vec!["0"]),
        ("--price 1000000000", vec!["more than 100 000 000"]),
        (
            "--markup 30% --stage 'a=60%' --stage b",
            vec!["60% of what", "60% of gross"],
        ),
    ] {
        workshop
            .run(&format!("quote make G1 {line}"))
            .refused(1, &words);
    }
    workshop
        .run("quote make G1 --margin 30% --markup 20%")
        .refused(2, &["cannot be used with"]);
    workshop
        .run("quote make G9 --margin 30%")
        .refused(1, &["there is no garment G9"]);
    workshop
        .run("quote show Q1")
        .refused(1, &["there is no quotation Q1"]);
    assert_eq!(workshop.json("quote list")["quotations"], json!([]));
    assert_eq!(
        workshop.json("history")["bookings"][0]["booking"],
        "B4",
        "and books nothing"
    );
}

/// Derived: 5 m that cost 50.00 and would cost 10.00 today are no profit at 35.00.
#[test]
fn a_price_below_what_it_costs_is_warned_of_whatever_it_costs_to_replace() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "buy --date 2026-10-01 --line 'material=wool,kind=cloth,full-width=150cm,paid=5m,price=50'",
        "buy --date 2026-10-02 --line 'material=wool,kind=cloth,full-width=150cm,paid=10m,price=20'",
        "garment plan coat --need 'role=shell,kind=cloth,length=5m,width=140cm,preparation=none'",
        "reserve G1 shell --from L1.1",
    ]);
    let made = workshop.run("quote make G1 --price 35").done();
    assert!(
        made.err
            .contains("the price is 15.00 EUR below the floor: it does not cover its cost"),
        "{}",
        made.err
    );
    let inside = &workshop.json("quote show Q1")["inside"];
    assert_eq!(
        [&inside["profit"], &inside["floor"], &inside["below_floor"]],
        ["-15", "50", "15"]
    );
    let made = workshop.run("quote make G1 --price 50").done();
    assert!(!made.err.contains("below the floor"), "{}", made.err);
}

/// By hand: a third of the clasps and of six hours at 24.00 were spoiled, and no price is for them: 144.00 less 48.00 and
/// 24.00 over 6 h.
#[test]
fn an_hour_that_earns_less_than_is_wanted_is_warned_of() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=clasp,kind=trim,paid=6,price=72'",
        "workshop pay-rate owner 24.00 --from 2026-01-01",
        "garment plan belt --count 6 --need 'role=clasp,kind=trim,count=1'",
        "cut G1 clasp 6 --from L1.1",
        "work G1 sewing 6h --kind machine",
        "garment finish G1 --good 4 --spoiled 2 --spoilage own-mistake",
    ]);
    let made = workshop
        .run("quote make G1 --from actual --markup 0%")
        .done();
    let warned = "an own hour earns 12.00 EUR, but you want 24.00 EUR";
    assert!(made.err.contains(warned), "{}", made.err);
}

/// By hand: 2 h at 24.00 and half of it more are 72.00. The number that the trial did not use is the first quotation's.
#[test]
fn a_trial_says_the_price_and_books_nothing() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24.00",
        "garment plan top --operation 'name=sewing,kind=machine,planned=2h'",
    ]);
    let before = workshop.dump();
    let trial = "quote make G1 --markup 50% --stage 'deposit=50% of gross' --stage rest --try";
    let tried = workshop.json(trial);
    assert_eq!(
        (
            &tried["is_trial"],
            &tried["booking"],
            &tried["sheet"]["gross"],
            &tried["sheet"]["stages"][0]["amount"]
        ),
        (&json!(true), &Value::Null, &json!("72.00"), &json!("36.00"))
    );
    let said = workshop.run(trial).done();
    assert!(said.out.starts_with("Trial: top (G1), "), "{}", said.out);
    assert!(
        said.err
            .contains("Only tried, nothing is booked: 72.00 EUR to be paid."),
        "{}",
        said.err
    );
    assert_eq!(workshop.dump(), before);
    workshop
        .run("quote show Q1")
        .refused(1, &["there is no quotation Q1"]);
    // What cannot be made cannot be tried, and nothing is promised by the way.
    workshop
        .run("quote make G9 --try")
        .refused(1, &["there is no garment G9"]);
    workshop
        .run("quote make G1 --try --reserve")
        .refused(2, &["--reserve"]);
    // Its id is still free: the quotation itself is made under it.
    let id = "--id 0192f0c8-5c00-7000-8000-0000000000a1";
    workshop.all(&[&format!("quote make G1 --markup 10% --try {id}")]);
    let made = workshop.json(&format!("quote make G1 --markup 50% {id}"));
    assert_eq!(
        (
            &made["quotation"],
            &made["is_trial"],
            &made["sheet"]["gross"]
        ),
        (&json!("Q1"), &json!(false), &json!("72.00"))
    );
    // A new version is tried as well: 48.00 and a quarter of it are 60.00.
    let before = workshop.dump();
    let again = workshop.run("quote again Q1 --markup 25% --try").done();
    assert!(
        again.out.contains("60.00") && again.err.contains("Only tried, nothing is booked"),
        "{}{}",
        again.out,
        again.err
    );
    workshop
        .run("quote again Q1 --try --reserve")
        .refused(2, &["--reserve"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}
