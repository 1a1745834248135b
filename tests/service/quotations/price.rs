//! How a quotation makes its price.

use crate::Workshop;
use crate::stories::options::texts;
use crate::stories::{planned, sewn};
use serde_json::Value;

/// The whole chain, each step derived in the one before: a GBP invoice landed at 125.61 (largest remainder, OpenStax
/// Contemporary Mathematics 11.4), 5 % of the wool's length washed out, job cost 434.26 (OpenStax, Principles of Accounting
/// vol. 2, 4.2), margin 35 % = 668.09 (Centennial College Libraries, "Markup": price = cost / (1 - margin)), 20 % tax on top, a
/// deposit of 40 % of the gross with its tax inside (VAT fraction 1/6).
#[test]
fn a_garment_that_was_made_is_priced_from_what_it_did_cost() {
    let workshop = sewn();
    workshop.all(&["workshop tax standard 20%"]);
    let made = workshop.json(
        "quote make G1 --from actual --margin 35% --stage 'deposit=40% of gross' --stage 'on delivery'",
    );
    let (sheet, inside) = (&made["sheet"], &made["inside"]);
    assert_eq!(
        texts(sheet, &["net", "tax", "gross"]),
        ["668.09", "133.62", "801.71"]
    );
    let stages: Vec<_> = sheet["stages"]
        .as_array()
        .unwrap()
        .iter()
        .map(|stage| texts(stage, &["amount", "tax"]))
        .collect();
    assert_eq!(stages, [["320.68", "53.45"], ["481.03", "80.17"]]);
    assert_eq!(inside["net"], "668.09");
    assert_eq!(
        inside["floor"], "434.26",
        "all of the job, at the pay that is wanted"
    );
    let total: i64 = inside["parts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| {
            part["printed"]
                .as_str()
                .unwrap()
                .replace('.', "")
                .parse::<i64>()
                .unwrap()
        })
        .sum();
    assert_eq!(total, 66_809);
    // The hour earns what is left of the net price: 668.09 - 114.01 - 68.25 over 10.5 h.
    assert!(
        inside["hour_earns"].as_str().unwrap().starts_with("46.26"),
        "{inside}"
    );
    workshop.audit();
}

#[test]
fn what_is_booked_later_changes_no_quotation() {
    let workshop = planned();
    let made =
        workshop.json("quote make G1 --margin 35% --stage 'deposit=40% of gross' --stage rest");
    workshop.all(&[
        "buy --line 'material=M1,paid=6m,price=400'",
        "workshop figures --pay 60000 --overhead 9600 --weeks 46 --hours 40h --billable 60%",
        "workshop tax standard 25%",
        "workshop set --prices with-tax --tax-rounding down",
        "garment edit G1 --operation 'name=sewing,kind=machine,planned=12h'",
        "customer edit C1 --name 'Someone Else'",
    ]);
    let shown = workshop.json("quote show Q1");
    for frozen in ["sheet", "inside"] {
        assert_eq!(shown[frozen].to_string(), made[frozen].to_string());
    }
    assert_eq!(shown["customer_name"], "Someone Else");
    assert!(
        !shown["sheet"].to_string().contains("Anna"),
        "the name stands in no frozen part"
    );
    let again = workshop.json("quote again Q1");
    assert_ne!(again["sheet"]["gross"], made["sheet"]["gross"]);
    assert!(!again["changes"].as_array().unwrap().is_empty());
    assert_eq!(
        workshop.json("quote show Q1 --version 1")["sheet"],
        made["sheet"]
    );
    workshop.audit();
}

/// Discounts of 20 % and 15 % leave 68 % (OpenStax, Contemporary Mathematics, 6.2); rounded up to the next x.95.
#[test]
fn discounts_multiply_and_what_the_customer_sees_is_rounded_up() {
    let workshop = planned();
    let made =
        workshop.json("quote make G1 --price 100.00 --discount 20% --discount 15% --round-up x.95");
    assert_eq!(made["sheet"]["net"], "68.95");
    let amount = |line: &Value| {
        line["amount"]
            .as_str()
            .unwrap()
            .replace('.', "")
            .parse::<i64>()
            .unwrap()
    };
    let lines = made["sheet"]["lines"].as_array().unwrap();
    assert_eq!(lines.iter().map(amount).sum::<i64>(), 6_895);
    workshop.all(&["workshop set --prices with-tax"]);
    let seen = workshop.json("quote make G1 --price 100.00 --round-up 5");
    assert_eq!(
        texts(&seen["sheet"], &["net", "tax", "gross"]),
        ["83.33", "16.67", "100.00"]
    );
    let seen = workshop.json("quote make G1 --price 101.00 --round-up 5");
    assert_eq!(
        texts(&seen["sheet"], &["net", "tax", "gross"]),
        ["87.50", "17.50", "105.00"]
    );
}

/// Derived: 100.05 with 20 % inside holds 16.675, half up 16.68 (VAT fraction 1/6); 83.37 and 83.38 with tax on top are 100.04 and
/// 100.06, so that a net price never meets it.
#[test]
fn a_typed_price_is_met_where_prices_are_shown_with_tax() {
    let workshop = planned();
    workshop.all(&["workshop tax reduced 10%", "workshop set --prices with-tax"]);
    let made = workshop.json("quote make G1 --price 100.05 --handling 5.05");
    assert_eq!(
        texts(&made["sheet"], &["net", "tax", "gross"]),
        ["83.37", "16.68", "100.05"]
    );
    assert_eq!(made["sheet"]["lines"][2]["amount"], "5.05", "{made}");
    assert_eq!(
        made["inside"]["rule"],
        "a given price of 100.05, tax included"
    );
    for line in [
        "--price 100.05 --tax-on materials=reduced",
        "--price 99.99 --tax-on labour=reduced --material-markup 25%",
    ] {
        let made = workshop.json(&format!("quote make G1 {line}"));
        let sheet = &made["sheet"];
        assert!(line.contains(sheet["gross"].as_str().unwrap()), "{sheet}");
        let cents = |text: &Value| {
            text.as_str()
                .unwrap()
                .replace('.', "")
                .parse::<i64>()
                .unwrap()
        };
        assert_eq!(
            cents(&sheet["net"]) + cents(&sheet["tax"]),
            cents(&sheet["gross"])
        );
    }
    workshop.audit();
}

/// Each part at its own rate: 5 % of 61.20 and 20 % of 322.83, a discount taken from both; the VAT fractions are 1/21 and 1/6
/// (accountingservicesforbusiness.co.uk, "VAT rates and fractions").
#[test]
fn parts_of_a_price_may_have_rates_of_their_own() {
    let workshop = planned();
    workshop.all(&["workshop tax reduced 5%"]);
    let made = workshop.json("quote make G1 --markup 0% --tax standard --tax-on materials=reduced");
    let line = |line: &Value| texts(line, &["text", "amount", "rate"]);
    let lines = |of: &Value| {
        of["sheet"]["lines"]
            .as_array()
            .unwrap()
            .iter()
            .map(line)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        lines(&made),
        [
            ["Materials", "61.20", "reduced"],
            ["Labour", "322.83", "standard"]
        ]
    );
    let rate = |rate: &Value| texts(rate, &["name", "net", "tax", "gross"]);
    let rates = |of: &Value| {
        of["sheet"]["rates"]
            .as_array()
            .unwrap()
            .iter()
            .map(rate)
            .collect::<Vec<_>>()
    };
    let expected = [
        ["standard", "322.83", "64.57", "387.40"],
        ["reduced", "61.20", "3.06", "64.26"],
    ];
    assert_eq!(rates(&made), expected);
    assert_eq!(
        texts(&made["sheet"], &["net", "tax", "gross"]),
        ["384.03", "67.63", "451.66"]
    );

    workshop.all(&["workshop set --prices with-tax"]);
    let again = workshop
        .json("quote again Q1 --markup 0% --tax-on materials=reduced --discount 10% --round-up 5");
    let shown = lines(&again);
    let expected = [
        ["Materials", "64.26", "reduced"],
        ["Labour", "387.40", "standard"],
        ["Discount 10 %, standard", "-38.74", "standard"],
        ["Discount 10 %, reduced", "-6.43", "reduced"],
    ];
    assert_eq!(shown[..4], expected);
    assert_eq!(
        (shown[4][0].as_str(), shown[4][2].as_str()),
        ("Rounding", "standard")
    );
    assert_eq!(again["sheet"]["gross"], "410.00");
    let inside = |name: &str| {
        let of = rates(&again)
            .into_iter()
            .find(|rate| rate[0] == name)
            .unwrap();
        let minor = |text: &str| text.replace('.', "").parse::<i64>().unwrap();
        (minor(&of[2]), minor(&of[3]))
    };
    for (name, fraction) in [("standard", 6), ("reduced", 21)] {
        let (tax, gross) = inside(name);
        assert!(
            (tax * fraction - gross).abs() * 2 <= fraction,
            "{name}: {tax} of {gross}"
        );
    }
    let stages = |line: &str| {
        texts(
            &workshop.json(line)["sheet"]["stages"][0],
            &["amount", "tax"],
        )
    };
    assert_eq!(
        stages("quote show Q1 --version 1"),
        ["451.66", "67.63"],
        "frozen as it was"
    );

    for (line, words) in [
        ("--tax-on materials", vec!["materials=reduced"]),
        (
            "--tax-on buttons=reduced",
            vec!["buttons", "materials, labour, handling"],
        ),
        (
            "--tax-on materials=low",
            vec!["no tax rate low", "standard, reduced"],
        ),
        (
            "--tax-on materials=reduced --tax-on materials=standard",
            vec!["given twice"],
        ),
    ] {
        workshop
            .run(&format!("quote make G1 --markup 30% {line}"))
            .refused(1, &words);
    }
    workshop.audit();
}

/// Derived: the last lot that was paid for and is wide enough is the first one, 10 m for 100.00; a gift and a narrow strip set
/// no price.
#[test]
fn it_is_replaced_at_the_last_paid_lot_that_can_serve() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm",
        "buy --date 2026-10-01 --line 'material=wool,kind=cloth,full-width=150cm,paid=10m,price=100'",
        "buy --date 2026-10-02 --line 'material=wool,kind=cloth,full-width=150cm,paid=10m,price=0'",
        "buy --date 2026-10-03 --line 'material=wool,kind=cloth,full-width=30cm,paid=10m,price=20'",
        "buy --date 2026-10-04 --line 'material=wool,kind=cloth,full-width=150cm,paid=1m,price=3'",
        "garment plan coat --need 'role=shell,kind=cloth,length=2m,width=140cm,preparation=none'",
        "reserve G1 shell --from L2.1",
    ]);
    // The gift costs nothing, and 2 m again 20.00.
    let made = workshop.json("quote make G1 --price 30 --materials-at replacement");
    assert_eq!(
        (
            &made["inside"]["costs"][0]["cost"],
            &made["inside"]["floor"]
        ),
        (&"20".into(), &"20".into())
    );
    let detail = made["inside"]["costs"][0]["detail"].as_str().unwrap();
    assert!(detail.ends_with("at the price of L1"), "{detail}");
    // A dearer lot that serves counts, once it is there.
    workshop.all(&["buy --line 'material=wool,kind=cloth,full-width=150cm,paid=10m,price=150'"]);
    assert_eq!(
        workshop.json("quote make G1 --price 30")["inside"]["below_floor"],
        serde_json::Value::Null
    );
    let made = workshop.json("quote make G1 --price 29");
    assert_eq!(
        (&made["inside"]["floor"], &made["inside"]["below_floor"]),
        (&"30".into(), &"1".into())
    );
}
