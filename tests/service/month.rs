//! What a month brought, worked out by pencil on invented bookings.

use crate::Workshop;
use crate::book::{TestBook, day};
use ellwand_contract::month::{GetMonth, Month};
use ellwand_domain::setting::Role;
use ellwand_service::Caller;
use serde_json::{Value, json};

/// September, booked on 12 October: 10 m linen for 100.00 and 20 buttons for 20.00 with 12.00 freight by value, which makes
/// 110.00 (11.00 a metre) and 22.00 (1.10 a button). A shirt for Ada takes 2 m and 7 buttons, and 0.50 m are cut wrong; the
/// owner sews 3 h, Anna 1 h for 15.00. It is sold for 200.00 without tax, of which 60.00 is paid.
const SEPTEMBER: &[&str] = &[
    "workshop set --currency EUR --end-allowance 0cm --cutting-step 1cm",
    "workshop pay-rate owner 24.00",
    "person set anna --paid",
    "workshop pay-rate anna 15.00",
    "workshop overhead 6.00",
    "buy --date 2026-09-05 --charge freight=12.00 --line 'material=linen,kind=cloth,full-width=150cm,paid=10m,price=100' \
         --line 'material=button,kind=trim,paid=20,price=20'",
    "garment plan shirt --for Ada --need 'role=shell,kind=cloth,length=2m,width=140cm,preparation=none' \
         --need 'role=buttons,kind=trim,count=7'",
    "quote make G1 --price 200 --date 2026-09-08 --valid-until 2026-10-30",
    "quote accept Q1 --version 1 --date 2026-09-10",
    "quote pay Q1 60.00 --date 2026-09-10",
    "cut G1 shell 0.50m --from L1.1 --reason own-mistake --date 2026-09-20",
    "cut G1 shell 2m --from L1.1 --date 2026-09-21",
    "cut G1 buttons 7 --from L2.1 --date 2026-09-21",
    "work G1 sewing 3h --kind hand --date 2026-09-23",
    "work G1 seams 1h --kind machine --person anna --date 2026-09-24",
    "garment finish G1 --really --date 2026-09-28",
    "garment deliver G1 --date 2026-10-02",
];

fn september() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(SEPTEMBER);
    workshop
}

/// Quantity and value of a kind in one column.
fn moved(month: &Value, kind: &str, column: &str) -> (Value, Value) {
    let goods = month["goods"].as_array().unwrap();
    let goods = goods.iter().find(|goods| goods["kind"] == kind).unwrap();
    let sum = &goods[column];
    let amount = &sum["amount"];
    let quantity = if amount["count"].is_null() {
        &amount["length_m"]
    } else {
        &amount["count"]
    };
    (quantity.clone(), sum["value"].clone())
}

fn cloth(length: &str, value: &str) -> (Value, Value) {
    (json!(length), json!(value))
}

#[test]
fn goods_of_a_month_are_bought_used_lost_and_left() {
    let workshop = september();
    let month = workshop.json("month 2026-09");
    assert_eq!(moved(&month, "cloth", "at_start"), cloth("0", "0"));
    assert_eq!(moved(&month, "cloth", "bought"), cloth("10", "110"));
    assert_eq!(moved(&month, "cloth", "used"), cloth("2", "22"));
    // 10 − 2 − 0.50 = 7.50 m; 110 − 22 − 5.50 = 82.50.
    assert_eq!(moved(&month, "cloth", "at_end"), cloth("7.5", "82.5"));
    let went = &month["goods"][0]["went"];
    assert_eq!(
        (
            &went[0]["place"],
            &went[0]["amount"]["length_m"],
            &went[0]["value"],
            went[1].is_null()
        ),
        (&json!("own-mistake"), &json!("0.5"), &json!("5.5"), true)
    );
    // 20 − 7 = 13 buttons; 22 − 7.70 = 14.30.
    assert_eq!(moved(&month, "trim", "used"), (json!(7), json!("7.7")));
    assert_eq!(moved(&month, "trim", "at_end"), (json!(13), json!("14.3")));
    // 82.50 + 14.30; the shirt holds 22 + 7.70 until it is delivered in October.
    assert_eq!(
        (&month["shelf_value"], &month["in_garments"]),
        (&json!("96.8"), &json!("29.7"))
    );
    let october = workshop.json("month");
    assert_eq!(
        (&october["from"], &october["to"]),
        (&json!("2026-10-01"), &json!("2026-10-31"))
    );
    assert_eq!(
        (&october["so_far"], &month["so_far"]),
        (&json!(true), &json!(false))
    );
    assert_eq!(moved(&october, "cloth", "at_start"), cloth("7.5", "82.5"));
    assert_eq!(
        (&october["shelf_value"], &october["in_garments"]),
        (&json!("96.8"), &json!("0"))
    );
    workshop.audit();
}

#[test]
fn garments_money_and_hours_of_a_month() {
    let workshop = september();
    let month = workshop.json("month 2026-09");
    let garment = &month["garments"][0];
    assert_eq!(
        (
            &garment["garment"],
            &garment["customer_name"],
            &garment["finished"],
            &garment["delivered"]
        ),
        (
            &json!("G1"),
            &json!("Ada"),
            &json!("2026-09-28"),
            &Value::Null
        )
    );
    let money = &month["money"];
    let sums =
        ["quoted", "accepted", "paid"].map(|sum| (&money[sum]["count"], &money[sum]["amount"]));
    let (one, price) = (json!(1), json!("200.00"));
    assert_eq!(
        sums,
        [(&one, &price), (&one, &price), (&one, &json!("60.00"))]
    );
    let owed = &money["owed"][0];
    assert_eq!(
        (
            &owed["quotation"],
            &owed["customer_name"],
            &owed["amount"],
            &money["owed_in_all"]
        ),
        (
            &json!("Q1"),
            &json!("Ada"),
            &json!("140.00"),
            &json!("140.00")
        )
    );
    let hours: Vec<_> = month["hours"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| {
            (
                row["person"].as_str().unwrap(),
                row["kind"].as_str().unwrap(),
                row["minutes"].as_i64().unwrap(),
            )
        })
        .collect();
    assert_eq!(hours, [("anna", "machine", 60), ("owner", "hand", 180)]);
    // (200 − 29.70 materials − 5.50 cut wrong − 4 h × 6 overhead − 15 to Anna) ÷ 3 h = 125.80 ÷ 3.
    let earned = &month["hour_earned"];
    assert_eq!(
        (&earned["per_hour"], &earned["own_minutes"]),
        (&json!("41.933333"), &json!(180))
    );
    // A payment of October changes what is owed then, not what was owed in September.
    workshop.all(&["quote pay Q1 40.00 --date 2026-10-05"]);
    let of = |month: &str| workshop.json(&format!("month {month}"))["money"].clone();
    assert_eq!(
        (&of("2026-09")["owed_in_all"], &of("2026-10")["owed_in_all"]),
        (&json!("140.00"), &json!("100.00"))
    );
    assert_eq!(of("2026-10")["paid"]["amount"], "40.00");
    let october = workshop.json("month 2026-10");
    assert_eq!(october["garments"][0]["delivered"], "2026-10-02");
    assert_eq!(
        (&october["hours"], &october["hour_earned"]),
        (&json!([]), &Value::Null)
    );
}

/// What is booked for an earlier month counts there; what is undone comes off on the day it is undone.
#[test]
fn a_backdated_cut_counts_in_its_month_and_an_undo_on_its_day() {
    let workshop = september();
    workshop.all(&[
        "garment plan apron --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
        "cut G2 shell 1m --from L1.1 --date 2026-09-30",
    ]);
    let september = workshop.json("month 2026-09");
    // 2 + 1 m, 22 + 11.
    assert_eq!(moved(&september, "cloth", "used"), cloth("3", "33"));
    assert_eq!(moved(&september, "cloth", "at_end"), cloth("6.5", "71.5"));
    workshop.audit();
    workshop.all(&["undo"]);
    assert_eq!(
        moved(&workshop.json("month 2026-09"), "cloth", "used"),
        cloth("3", "33")
    );
    let october = workshop.json("month 2026-10");
    assert_eq!(moved(&october, "cloth", "used"), cloth("-1", "-11"));
    assert_eq!(moved(&october, "cloth", "at_end"), cloth("7.5", "82.5"));
    workshop.audit();
}

/// Single days come from the ledger, whole months from their totals: both ways add up to the same.
#[test]
fn days_add_up_to_their_month() {
    let workshop = september();
    let whole = workshop.json("month --from 2026-08-01 --to 2026-10-31");
    let splits = [
        ("2026-09-20", "2026-09-21"),
        ("2026-09-30", "2026-10-01"),
        ("2026-10-01", "2026-10-02"),
    ];
    for (last, first) in splits {
        let one = workshop.json(&format!("month --from 2026-08-01 --to {last}"));
        let two = workshop.json(&format!("month --from {first} --to 2026-10-31"));
        assert_eq!(
            moved(&one, "cloth", "at_end"),
            moved(&two, "cloth", "at_start"),
            "{last}"
        );
        assert_eq!(
            moved(&two, "cloth", "at_end"),
            moved(&whole, "cloth", "at_end"),
            "{last}"
        );
        let metres = |month: &Value| {
            moved(month, "cloth", "used")
                .0
                .as_str()
                .unwrap()
                .parse::<u32>()
                .unwrap()
        };
        assert_eq!(metres(&one) + metres(&two), 2, "{last}");
    }
    // Up to the 20th only the wrong cut: 10 − 0.50 m, 110 − 5.50.
    let early = workshop.json("month --from 2026-09-01 --to 2026-09-20");
    assert_eq!(moved(&early, "cloth", "at_end"), cloth("9.5", "104.5"));
    assert_eq!(early["garments"], json!([]));
}

/// Years before are read from their own totals, whatever was booked for them since or taken back: 3 m in 2023, 4 m in 2024 and
/// 5 m in 2026, each at 10.00 a metre, and 1 m more for 2024 booked last.
#[test]
fn years_before_a_month_are_in_its_start() {
    let workshop = Workshop::new();
    let buy = |day: &str, metres: u32| {
        let line =
            format!("material=linen,kind=cloth,full-width=150cm,paid={metres}m,price={metres}0");
        workshop.all(&[&format!("buy --date {day} --line '{line}'")]);
    };
    buy("2023-12-31", 3);
    buy("2024-05-05", 4);
    buy("2026-01-31", 5);
    buy("2024-01-01", 1);
    let start = |month: &str| {
        moved(
            &workshop.json(&format!("month {month}")),
            "cloth",
            "at_start",
        )
    };
    assert_eq!(start("2024-01"), cloth("3", "30"));
    assert_eq!(start("2024-06"), cloth("8", "80"));
    assert_eq!(start("2026-01"), cloth("8", "80"));
    assert_eq!(start("2026-02"), cloth("13", "130"));
    let years = workshop.json("month --from 2024-01-01 --to 2025-12-31");
    assert_eq!(moved(&years, "cloth", "bought"), cloth("5", "50"));
    assert_eq!(moved(&years, "cloth", "at_end"), cloth("8", "80"));
    // Taken back as of a day of October, it comes off there.
    workshop.all(&["undo --date 2026-10-12"]);
    assert_eq!(start("2026-10"), cloth("13", "130"));
    assert_eq!(start("2026-11"), cloth("12", "120"));
    workshop.audit();
}

/// Sold as they are with 20 % tax on top: 1 m of linen at 11.00 for 24.00, and 5 buttons at 1.10 for 3.00. 24.00 − 11.00 and
/// 3.00 − 5.50 are a gain of 10.50; sold for 28.80 and 3.60.
#[test]
fn goods_that_were_sold_are_in_the_month() {
    let workshop = september();
    workshop.all(&[
        "workshop tax VAT 20%",
        "sell L1.1 1m --price 24.00 --tax VAT --date 2026-09-29",
        "sell L2.1 5 --price 3.00 --tax VAT --date 2026-09-30",
    ]);
    let sold = || workshop.json("month 2026-09")["money"]["goods_sold"].clone();
    assert_eq!(
        sold(),
        json!({"count": 2, "amount": "32.40", "gain": "10.50", "unpriced": 0})
    );
    // What is taken back was not sold.
    workshop.all(&["undo"]);
    assert_eq!(
        sold(),
        json!({"count": 1, "amount": "28.80", "gain": "13.00", "unpriced": 0})
    );
    workshop.audit();
}

/// A quotation and its supplements are one account. Agreed: 2 m at 8.00 and 4 h at 24.00 at half more, 168.00; then silk at 60.00
/// instead, (120 − 16) × 1.5 = 156.00. Of 324.00 in all 200.00 are paid, 32.00 of it more than the first came to.
#[test]
fn what_is_paid_too_much_on_one_pays_its_supplement() {
    let workshop = Workshop::new();
    let lining = |material: &str| {
        format!(
            "--need 'role=lining,kind=cloth,length=1.96m,width=130cm,preparation=none,material={material}'"
        )
    };
    workshop.all(&[
        "buy --line 'material=twill,kind=cloth,full-width=150cm,paid=6m,price=48' \
             --line 'material=silk,kind=cloth,full-width=150cm,paid=6m,price=360'",
        "workshop pay-rate owner 24.00",
        &format!(
            "garment plan coat {} --operation 'name=sewing,kind=hand,planned=4h'",
            lining("twill")
        ),
        "quote make G1 --markup 50%",
        "quote accept Q1 --version 1",
        &format!("garment edit G1 {}", lining("silk")),
        "quote make G1 --supplement-to Q1",
        "quote accept Q2 --version 1",
        "quote pay Q1 200.00 --really",
    ]);
    let list = workshop.json("quote list");
    let owed = |code: &str| {
        let rows = list["quotations"].as_array().unwrap();
        let row = rows.iter().find(|row| row["quotation"] == code).unwrap();
        row["owed"].clone()
    };
    assert_eq!((owed("Q1"), owed("Q2")), (json!("124.00"), json!("0.00")));
    let money = workshop.json("month")["money"].clone();
    assert_eq!(
        (&money["owed_in_all"], &money["owed"][0]["quotation"]),
        (&json!("124.00"), &json!("Q1"))
    );
    workshop.audit();
}

#[test]
fn what_fell_below_its_least_level_is_named() {
    let workshop = september();
    workshop.all(&[
        "material edit M2 --least 15",
        "material edit M1 --least 7.6m",
    ]);
    let below = |month: &str| {
        let rows = workshop.json(&format!("month {month}"))["below_least"].clone();
        let rows = rows.as_array().unwrap().iter();
        rows.map(|row| {
            (
                row["name"].as_str().unwrap().to_owned(),
                row["fell"].as_bool().unwrap(),
            )
        })
        .collect::<Vec<_>>()
    };
    let both = |fell: bool| vec![("linen".to_owned(), fell), ("button".to_owned(), fell)];
    // Nothing lay there in August; 7.50 m and 13 buttons are left of September, which began with none.
    assert_eq!(below("2026-09"), both(false));
    assert_eq!(below("2026-10"), both(false));
    let fell = workshop.json("month --from 2026-09-06 --to 2026-09-30")["below_least"].clone();
    assert_eq!(
        (
            &fell[0]["fell"],
            &fell[0]["on_hand"]["length_m"],
            &fell[0]["least"]["length_m"]
        ),
        (&json!(true), &json!("7.5"), &json!("7.6"))
    );
    workshop.all(&["material edit M1 --least none"]);
    assert_eq!(below("2026-10"), [("button".to_owned(), false)]);
    workshop
        .run("material edit M2 --least 2.5")
        .refused(1, &["2.5"]);
    workshop
        .run("material edit M1 --least 0m")
        .refused(1, &["more than zero"]);
}

#[test]
fn a_period_is_a_month_or_days_in_their_order() {
    let workshop = september();
    workshop
        .run("month 2026-13")
        .refused(1, &["2026-13", "2026-11"]);
    workshop
        .run("month November")
        .refused(1, &["November", "2026-11"]);
    workshop
        .run("month --from 2026-10-02 --to 2026-10-01")
        .refused(1, &["ends before it begins"]);
}

/// Quantities are for everyone; money is for who sees prices, what an hour earned for who sees pay rates too.
#[test]
fn readers_see_what_they_may() {
    let book = TestBook::new();
    let ask = |role: Role| -> Month {
        let mut caller = Caller::owner("vi");
        caller.role = role;
        book.handle(0)
            .call(&caller, &GetMonth::default())
            .unwrap()
            .answer
    };
    let line = json!([{"material": {"kind": "cloth", "name": "linen", "full_width": "150cm"}, "paid": "4m", "price": "40"}]);
    book.ask::<ellwand_contract::purchases::Buy>(json!({"line": line}))
        .unwrap();
    let viewer = serde_json::to_value(ask(Role::Viewer)).unwrap();
    assert_eq!(
        viewer["goods"][0]["bought"],
        json!({"amount": {"length_m": "4"}, "value": null})
    );
    assert_eq!(
        (&viewer["money"], &viewer["shelf_value"]),
        (&Value::Null, &Value::Null)
    );
    let maker = serde_json::to_value(ask(Role::Maker)).unwrap();
    assert_eq!(maker["goods"][0]["bought"]["value"], "40");
    assert!(!maker["money"].is_null() && maker["hour_earned"].is_null());
    assert_eq!(day(0).date_naive().to_string(), "2026-10-12");
}

/// What has still to be priced is no offer, and so it was not quoted: 50.00 were.
#[test]
fn what_is_no_offer_yet_was_not_quoted() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan bag --need 'role=base,kind=cloth,length=1m,width=1m,preparation=none,estimate=10'",
        "garment plan coat --need 'role=shell,kind=cloth,length=1m,width=1m,preparation=none' --need 'role=buttons,kind=trim,count=4,estimate=8'",
        "quote make G1 --price 50",
        "quote make G2 --margin 30%",
    ]);
    assert_eq!(
        workshop.json("quote show Q2")["sheet"]["to_be_priced"][0],
        "shell"
    );
    let quoted = workshop.json("month")["money"]["quoted"].clone();
    assert_eq!(
        (&quoted["count"], &quoted["amount"]),
        (&1.into(), &"50.00".into())
    );
}

/// What has no price or an estimated one is said beside the values that leave it out or rest on it, until it is priced.
#[test]
fn values_say_what_they_do_not_know() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --opening --line 'material=tweed,kind=cloth,full-width=150cm,paid=3m,price=unknown' \
             --line 'material=poplin,kind=cloth,full-width=150cm,paid=2m,price=about 20'",
    ]);
    let notes = || workshop.json("month")["notes"].to_string();
    let said = notes();
    for part in [
        "1 lot that is still here has no price and counts as nothing",
        "1 lot that is still here is valued by an estimate",
    ] {
        assert!(said.contains(part), "{said}");
    }
    workshop.all(&["lot price L1 45", "lot price L2 20"]);
    let said = notes();
    assert!(!said.contains("still here"), "{said}");
}
