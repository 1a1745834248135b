//! `ellwand quote outcome`: what a quotation came to.

use crate::Workshop;
use crate::stories::outcome::{adds_up, cents, quoted, steps};
use serde_json::{Value, json};

/// Derived by pencil, with the formulas of OpenStax, Principles of Accounting vol. 2, 8.2 and 8.3: price (AP − SP) × AQ =
/// 3.00 × 2.55 m, quantity (AQ − SQ) × SP = 0.10 m × 22.00, time 1.5 h × 30.00, rate 1.50 × 2 h, overhead on 1.5 h at 8.00.
#[test]
fn a_commission_is_followed_from_quotation_to_outcome() {
    let workshop = quoted();
    workshop.all(&[
        "quote accept Q1 --version 1",
        "buy --line 'material=M1,paid=6m,price=150'",
        "workshop pay-rate bo 16.50 --paid",
        "cut G1 shell 2.55m --from L3.1",
        "cut G1 buttons 6 --from L2.1",
        "cut G1 shell 0.40m --from L3.1 --reason own-mistake",
        "work G1 sewing 8h30",
        "work G1 sewing 30min --reason own-mistake",
        "work G1 hem 2h --person bo",
        "work G1 hem 1h --person bo --reason customer-change",
        "quote pay Q1 200 --note cash",
    ]);
    let before = workshop.json("quote outcome Q1");
    assert_eq!(
        (&before["so_far"], &before["state"]),
        (&json!(true), &json!("cut-into"))
    );
    let dump = workshop.dump();
    workshop.all(&["garment finish G1"]);
    let outcome = workshop.json("quote outcome Q1");
    let expected = [
        "material_quantity shell 2.20 unfavourable",
        "material_price shell 7.65 unfavourable",
        "labour_rate hem 3.00 unfavourable",
        "labour_time sewing 45.00 unfavourable",
        "overhead_on_extra_hours overhead 12.00 unfavourable",
        "own_mistake shell 10.00 unfavourable",
        "own_mistake sewing 15.00 unfavourable",
        "own_mistake overhead on sewing 4.00 unfavourable",
        "customer_change hem 16.50 unfavourable",
        "customer_change overhead on hem 8.00 unfavourable",
    ];
    assert_eq!(steps(&outcome), expected);
    adds_up(&outcome);
    let total = &outcome["total"];
    let total = ["planned", "quoted", "actual"].map(|column| total[column].as_str().unwrap());
    assert_eq!(
        total,
        ["374", "371", "494.35"],
        "what is cut without a promise was planned as it was quoted; the hem is at the rate of the day it was logged on"
    );
    // Net 371.00 / 0.65; what is left of it: 570.77 − 68.85 − 92.00 − 49.50 − 14.00 over 9 h.
    let price = &outcome["price"];
    assert_eq!(
        [&price["net"], &price["cost"], &price["profit"]],
        ["570.77", "494.35", "76.42"]
    );
    assert_eq!(
        [&price["margin_percent"], &price["markup_percent"]],
        ["13.39", "15.46"]
    );
    assert_eq!(
        [&price["quoted_profit"], &price["quoted_margin_percent"]],
        ["199.77", "35"]
    );
    assert_eq!(
        [&price["hour_quoted"], &price["hour_earned"]],
        ["58.538571", "38.491111"]
    );
    assert_eq!(
        (&price["quoted_own_minutes"], &price["own_minutes"]),
        (&json!(420), &json!(540))
    );
    assert_eq!([&price["paid"], &price["left"]], ["200.00", "370.77"]);
    assert!(
        outcome["notes"]
            .to_string()
            .contains("shell was quoted from L1 and cut from L3")
    );
    // By its garment the same; read twice, and nothing is booked.
    assert_eq!(workshop.json("quote outcome G1"), outcome);
    workshop.all(&["undo --yes"]);
    assert_eq!(workshop.json("quote outcome Q1"), before);
    assert_ne!(
        workshop.dump(),
        dump,
        "the finish and its undoing are booked"
    );
    let shown = workshop.run("quote outcome Q1").done();
    insta::assert_snapshot!("outcome", format!("{}----\n{}", shown.out, shown.err));
    workshop.audit();
}

/// The option that was taken and what was changed later are both agreed: the shell and six buttons, then two buttons more at
/// 0.85 and an hour of hemming less than nothing (derived; 65 % of the price is the cost).
#[test]
fn an_option_and_a_supplement_are_part_of_what_was_agreed() {
    let workshop = quoted();
    workshop.all(&[
        "workshop tax standard 20%",
        "quote again Q1 --plan-is 'with a hem' --option plain --option-without plain=hem",
        "quote accept Q1 --version 2 --option plain",
        "garment edit G1 --need 'role=buttons,kind=trim,count=8'",
        "quote make G1 --supplement-to Q1",
        "quote accept Q2 --version 1",
        "quote pay Q2 3.14",
    ]);
    let first = workshop.json("quote show Q1");
    let plain = &first["options"][0];
    let more = workshop.json("quote show Q2");
    assert_eq!(
        (&more["inside"]["net"], &more["sheet"]["gross"]),
        (&json!("2.62"), &json!("3.14"))
    );
    assert_eq!(
        cents(&first["together"]["agreed"]),
        cents(&plain["sheet"]["gross"]) + 314,
        "of the option that was accepted: {first}"
    );
    let outcome = workshop.json("quote outcome Q1");
    adds_up(&outcome);
    assert_eq!(outcome, workshop.json("quote outcome G1"));
    let line = |name: &str| {
        let lines = outcome["lines"].as_array().unwrap();
        lines
            .iter()
            .find(|line| line["name"] == name)
            .cloned()
            .unwrap_or_default()
    };
    assert_eq!(line("hem"), Value::Null);
    assert_eq!(
        (
            &line("buttons")["quoted_quantity"],
            &line("buttons")["cost"]["quoted_printed"]
        ),
        (&json!("8 pcs"), &json!("6.80"))
    );
    assert_eq!(line("buttons")["cost"]["planned_printed"], "6.80");
    let price = &outcome["price"];
    let net = cents(&plain["sheet"]["net"]) + 262;
    assert_eq!(cents(&price["net"]), net);
    assert_eq!(
        (&price["paid"], cents(&price["left"])),
        (&json!("3.14"), cents(&plain["sheet"]["gross"]))
    );
    assert!(
        outcome["notes"]
            .to_string()
            .contains("with the supplement that was accepted")
    );
    workshop
        .run("quote outcome Q2")
        .refused(1, &["Q2 supplements Q1", "quote outcome Q1"]);
    workshop.audit();
}

#[test]
fn what_was_not_agreed_to_has_no_outcome() {
    let workshop = quoted();
    workshop
        .run("quote outcome Q1")
        .refused(1, &["Q1 is open: nothing is agreed yet", "quote accept Q1"]);
    workshop
        .run("quote outcome G1")
        .refused(1, &["no quotation for G1 is accepted", "ellwand cost G1"]);
    workshop
        .run("quote outcome Q9")
        .refused(1, &["there is no quotation Q9"]);
    workshop
        .run("quote outcome G9")
        .refused(1, &["there is no garment G9"]);
    workshop.run("quote outcome L1").refused(2, &["L1"]);
    workshop.all(&[
        "quote accept Q1 --version 1",
        "quote close Q1",
        "quote make G1 --margin 40%",
        "quote accept Q2 --version 1",
    ]);
    workshop
        .run("quote outcome Q1")
        .refused(1, &["Q1 was cancelled", "ellwand cost G1"]);
    assert_eq!(workshop.json("quote outcome G1")["quotation"], "Q2");
    workshop.all(&[
        "garment plan vest --operation 'name=sew,kind=hand,planned=1h'",
        "quote make G2 --price 50",
    ]);
    workshop.all(&["quote close Q3"]);
    workshop
        .run("quote outcome Q3")
        .refused(1, &["Q3 is closed", "ellwand cost G2"]);
}

/// Derived: the only coat is spoiled by an own mistake, so that nobody pays for it: the cloth is lost, and two and a half hours
/// earned less than nothing.
#[test]
fn a_spoiled_garment_earns_nothing() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "workshop set --end-allowance 0cm",
        "workshop pay-rate owner 24 --from 2026-01-01",
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=70cm,preparation=none' \
             --operation 'name=sewing,kind=machine,planned=2h30'",
        "quote make G1 --price 300",
        "quote accept Q1 --version 1 --reserve",
        "cut G1 shell",
        "work G1 sewing 2h30",
    ]);
    // Until it is known what is good, the whole price counts.
    assert_eq!(workshop.json("quote outcome Q1")["price"]["profit"], "220");
    workshop.all(&["garment finish G1 --good 0 --spoiled 1 --spoilage own-mistake"]);
    let outcome = workshop.json("quote outcome Q1");
    adds_up(&outcome);
    let price = &outcome["price"];
    assert_eq!(
        [&price["net"], &price["earned"], &price["profit"]],
        ["300", "0", "-80"]
    );
    // 0.00 less 20.00 of cloth over 2.5 h.
    assert_eq!(price["hour_earned"], "-8");
    assert!(
        outcome["notes"].to_string().contains("none is good"),
        "{outcome}"
    );
    let shown = workshop.run("quote outcome Q1").done().out;
    assert!(shown.contains("net price"), "{shown}");
    workshop.audit();
}
