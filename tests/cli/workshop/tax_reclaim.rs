//! `ellwand workshop tax-reclaim`: tax on purchases that comes back, and tax that does not.

use crate::Workshop;
use serde_json::{Value, json};

/// The invoice of the harbour stall with 20 % tax on goods and freight (132.00, so 26.40), on a day; `more` is put to the tax.
fn invoice(day: &str, more: &str) -> String {
    format!(
        "buy --supplier 'Harbour Stall' --date {day} --currency GBP --rate 1.1700 --really \
         --line 'material=wool,kind=cloth,paid=4.00m,price=88.00,full-width=150cm' \
         --line 'material=lining,kind=cloth,paid=5.00m,price=32.00,full-width=140cm' \
         --charge 'freight=12.00,by=value' --charge 'tax=26.40,by=taxed,on=1{more}' --charge 'duty=10.56,lines=1'"
    )
}

/// Lines in GBP, their total, and what is beside it.
fn in_pounds(purchase: &Value) -> [&Value; 4] {
    let line = |number: usize| &purchase["lines"][number]["invoice_amount"];
    [
        line(0),
        line(1),
        &purchase["invoice_total"],
        &purchase["reclaimed_total"],
    ]
}

/// With tax in the cost 126.72 and 42.24, without it 107.36 and 35.20, landed at 125.61 and 41.19 EUR (IAS 2 para 11, IAS 21
/// para 21, both derived; largest remainder by OpenStax, Contemporary Mathematics, 11.4). Only the setting differs.
#[test]
fn the_setting_on_the_day_of_the_purchase_says_whether_its_tax_is_a_cost() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --currency EUR",
        "workshop tax-reclaim yes --from 2026-10-05",
        "workshop tax-reclaim no --from 2026-10-08",
    ]);
    let (cost, without) = (
        ["126.72", "42.24", "168.96", "0.00"],
        ["107.36", "35.20", "142.56", "26.40"],
    );
    for (code, day, pounds, by, from) in [
        ("P1", "2026-10-04", cost, "unset", Value::Null),
        ("P2", "2026-10-05", without, "setting", json!("2026-10-05")),
        ("P3", "2026-10-07", without, "setting", json!("2026-10-05")),
        ("P4", "2026-10-08", cost, "setting", json!("2026-10-08")),
    ] {
        workshop.all(&[&invoice(day, "")]);
        let purchase = workshop.json(&format!("buy show {code}"));
        assert_eq!(in_pounds(&purchase), pounds, "{day}");
        let tax = &purchase["charges"][1];
        assert_eq!(
            (&tax["reclaim_by"], &tax["reclaim_from"]),
            (&json!(by), &from),
            "{day}"
        );
        assert_eq!(tax["reclaimed"], json!(pounds == without));
        assert_eq!(
            tax["shares"],
            json!(["19.36", "7.04"]),
            "it is shown in either case"
        );
        assert_eq!(
            purchase["charges"][0]["reclaimed"],
            Value::Null,
            "freight is no tax"
        );
    }
    let reclaimed = workshop.json("buy show P2");
    assert_eq!(
        (
            &reclaimed["lines"][0]["landed"],
            &reclaimed["lines"][1]["landed"],
            &reclaimed["home_total"]
        ),
        (&json!("125.61"), &json!("41.19"), &json!("166.8"))
    );
    let shown = |code: &str| workshop.run(&format!("buy show {code}")).done().out;
    assert!(shown("P1").contains("a cost: not set"), "{}", shown("P1"));
    assert!(
        shown("P2").contains("reclaimed: set from 2026-10-05 on"),
        "{}",
        shown("P2")
    );
    assert!(
        shown("P2").contains("plus GBP 26.40 of tax, which is reclaimed"),
        "{}",
        shown("P2")
    );
    assert!(
        shown("P4").contains("a cost: set from 2026-10-08 on"),
        "{}",
        shown("P4")
    );
    workshop.audit();
}

#[test]
fn the_charges_own_word_goes_before_the_setting_and_a_later_setting_changes_nothing() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop tax-reclaim yes --from 2026-01-01",
        &invoice("2026-10-05", ",reclaim=no"),
    ]);
    assert_eq!(
        in_pounds(&workshop.json("buy show P1")),
        ["126.72", "42.24", "168.96", "0.00"]
    );
    workshop.all(&[
        "workshop tax-reclaim --from 2026-01-01 --forget",
        &invoice("2026-10-05", ",reclaim=yes"),
        "workshop tax-reclaim no --from 2026-01-01",
    ]);
    let typed = workshop.json("buy show P2");
    assert_eq!(in_pounds(&typed), ["107.36", "35.20", "142.56", "26.40"]);
    assert_eq!(typed["charges"][1]["reclaim_by"], "charge");
    assert!(
        workshop
            .run("buy show P2")
            .done()
            .out
            .contains("reclaimed: as entered")
    );
    workshop.audit();
}

/// A customs bill with its tax weeks later: the tax follows the day of the purchase, costs nothing, and goes again. A home amount
/// is what the card paid, the tax in it: 197.68 splits into 166.79 and 30.89 (largest remainder).
#[test]
fn a_late_tax_and_a_card_statement_know_what_comes_back() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop tax-reclaim yes --from 2026-01-01",
        "workshop tax-reclaim no --from 2026-10-10",
        &invoice("2026-10-05", ""),
    ]);
    let before = workshop.json("buy show P1");
    let late = workshop.json("buy charge P1 tax=9.99 --date 2026-10-12");
    let tax = &late["charges"][3];
    assert_eq!(
        (&tax["reclaimed"], &tax["reclaim_from"], &tax["home"]),
        (&json!(true), &json!("2026-01-01"), &Value::Null)
    );
    for field in ["home_total", "invoice_home", "lines"] {
        assert_eq!(late[field], before[field], "{field}");
    }
    assert!(
        workshop
            .run("buy show P1")
            .done()
            .out
            .contains("added later, reclaimed")
    );
    let history = workshop.json("history");
    assert_eq!(history["bookings"][0]["movements"], json!([]));
    workshop.all(&["undo B4 --yes"]);
    assert_eq!(workshop.json("buy show P1")["charges"], before["charges"]);
    let costly = workshop.json("buy charge P1 tax=9.99,reclaim=no");
    assert_eq!(costly["home_total"], "176.79");
    let card = invoice("2026-10-05", "").replace("--rate 1.1700", "--home-amount 197.68");
    assert_eq!(workshop.json(&card)["home_total"], "166.79");
    workshop.audit();
}

#[test]
fn what_makes_no_sense_of_reclaiming_is_refused() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop tax-reclaim yes --from 2026-04-01",
        "workshop tax-reclaim no",
    ]);
    let set = json!([{"reclaimed": false, "from": "2026-10-12"}, {"reclaimed": true, "from": "2026-04-01"}]);
    assert_eq!(workshop.json("workshop")["tax_reclaims"], set);
    let shown = workshop.run("workshop").done().out;
    assert!(
        shown.contains("reclaimed, no cost, from 2026-04-01 on"),
        "{shown}"
    );
    for (line, code, words) in [
        ("workshop tax-reclaim perhaps", 2, "perhaps"),
        ("workshop tax-reclaim", 2, "YES_OR_NO"),
        (
            "workshop tax-reclaim yes --forget",
            2,
            "cannot be used with",
        ),
        (
            "workshop tax-reclaim --forget --from 2026-05-01",
            1,
            "no rule for reclaiming tax from 2026-05-01 on",
        ),
        (
            "buy --line 'material=tape,kind=trim,paid=3,price=1' --charge freight=1,reclaim=yes",
            2,
            "only a tax",
        ),
        (
            "buy --line 'material=tape,kind=trim,paid=3,price=1' --charge tax=1,reclaim=so",
            2,
            "neither yes nor no",
        ),
    ] {
        workshop.run(line).refused(code, &[words]);
    }
    assert_eq!(workshop.json("workshop")["tax_reclaims"], set);
    let booked = workshop.json("history")["bookings"].clone();
    assert_eq!(
        booked.as_array().unwrap().len(),
        2,
        "refusals are not booked"
    );
}
