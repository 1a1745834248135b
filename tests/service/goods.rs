//! Goods that leave the shelf for no garment, and what else rests on them.

use crate::Workshop;
use serde_json::Value;

/// 5 m of wool for 100.00: 20.00 a metre.
fn with_wool() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop tax VAT 20%",
        "buy --line 'material=wool,kind=cloth,paid=5m,price=100,full-width=150cm'",
    ]);
    workshop
}

fn piece(workshop: &Workshop, lot: &str, number: usize) -> Value {
    workshop.json(&format!("lot show {lot}"))["pieces"][number - 1].clone()
}

/// What a place got in all, by the ledger: millionths as decimal text.
fn went(workshop: &Workshop, lot: &str, place: &str) -> Option<String> {
    let shares = workshop.json(&format!("lot show {lot}"))["value_went"].clone();
    let shares = shares.as_array().unwrap();
    let own = shares.iter().find(|share| share["place"] == place);
    own.map(|share| share["value"].as_str().unwrap().to_owned())
}

/// 0.60 m of 5 m for 100.00 cost 12.00; 18.00 and 20 % are 21.60, and 18.00 less 12.00 is a gain of 6.00 (derived).
#[test]
fn a_sale_takes_cost_out_of_stock_and_keeps_its_gain() {
    let workshop = with_wool();
    let sold = workshop.json("sell L1.1 60cm --price 18.00 --to Ada --reason 'too stiff'");
    assert_eq!(
        (&sold["cost"], &sold["cost_printed"]),
        (&"12".into(), &"12.00".into())
    );
    for (field, right) in [
        ("net", "18.00"),
        ("tax", "3.60"),
        ("gross", "21.60"),
        ("cost", "12.00"),
        ("gain", "6.00"),
        ("tax_rate", "VAT 20 %"),
        ("customer", "C1"),
        ("customer_name", "Ada"),
    ] {
        assert_eq!(sold["sale"][field], right, "{field}");
    }
    let left = piece(&workshop, "L1", 1);
    assert_eq!(
        (&left["on_hand"]["length_m"], &left["value"]),
        (&"4.4".into(), &"88".into())
    );
    let booking = workshop.json("history B3");
    assert_eq!(booking["sale"], sold["sale"]);
    assert_eq!(
        booking["summary"],
        "Sold 0.60 m of L1.1 wool to C1: too stiff."
    );
    assert_eq!(went(&workshop, "L1", "sold").as_deref(), Some("12"));
    workshop.audit();
}

/// 24.00 a metre with tax in it: 1.50 m are 36.00, of which 20 ÷ 120 is tax; 30.00 less 30.00 is no gain. 10.00 for the rest of
/// 3.50 m, 8.33 without tax, is a loss of 61.67 (derived).
#[test]
fn a_price_by_the_metre_holds_its_tax_where_prices_do() {
    let workshop = with_wool();
    workshop.all(&["workshop set --prices with-tax"]);
    let even = workshop.json("sell L1.1 1.50m --price 24.00/m")["sale"].clone();
    assert_eq!(
        (&even["net"], &even["tax"], &even["gain"]),
        (&"30.00".into(), &"6.00".into(), &"0.00".into())
    );
    let loss = workshop.json("sell L1.1 --price 10")["sale"].clone();
    assert_eq!(
        (&loss["net"], &loss["cost"], &loss["gain"]),
        (&"8.33".into(), &"70.00".into(), &"-61.67".into())
    );
    workshop
        .run("sell L1.1 1m --price 5")
        .refused(1, &["nothing is left of L1.1"]);
    workshop.audit();
}

#[test]
fn gifts_own_use_and_losses_lie_apart() {
    let workshop = with_wool();
    workshop.all(&[
        "give L1.1 1m --reason 'for the school fair'",
        "give L1.1 50cm --own-use",
        "discard L1.1 25cm --reason 'moth holes'",
    ]);
    for (place, value) in [
        ("given away", "20"),
        ("own use", "10"),
        ("loss: discarded", "5"),
    ] {
        assert_eq!(
            went(&workshop, "L1", place).as_deref(),
            Some(value),
            "{place}"
        );
    }
    assert_eq!(
        workshop.json("history B5")["summary"],
        "Discarded 0.25 m of L1.1 wool: moth holes."
    );
    workshop
        .run("discard L1.1 --reason ' '")
        .refused(1, &["a loss needs its reason"]);
    workshop
        .run("sell L1.1 --price 0")
        .refused(1, &["a price of zero is no sale", "ellwand give"]);
    workshop
        .run("give L1.1 9m")
        .refused(1, &["L1.1 has 3.25 m; what is given away needs 9.00 m"]);
    workshop.audit();
}

/// A customer's own cloth is not the workshop's.
#[test]
fn a_customers_cloth_is_not_given_sold_or_discarded() {
    let workshop = Workshop::new();
    workshop
        .all(&["buy --line 'material=silk,kind=cloth,paid=2m,price=0,full-width=90cm,owner=Ada'"]);
    for line in [
        "give L1.1",
        "sell L1.1 --price 9",
        "discard L1.1 --reason moths",
    ] {
        workshop.run(line).refused(1, &["L1.1 belongs to C1"]);
    }
}

/// 5 m hold 2.05 m for G1: 3 m would leave 2.00 m. With --break the promise ends, and comes back with an undo.
#[test]
fn promised_cloth_is_sold_only_with_leave() {
    let workshop = with_wool();
    workshop.all(&[
        "garment plan vest --need 'role=shell,kind=cloth,length=2m,width=1m,preparation=none'",
        "reserve G1 shell --from L1.1",
    ]);
    let shelf = workshop.json("shelf");
    workshop.run("sell L1.1 3.50m --price 70").refused(
        1,
        &[
            "L1.1 has 2.95 m free; what is sold needs 3.50 m",
            "R1 holds",
            "--break G1",
        ],
    );
    let sold = workshop.json("sell L1.1 3.50m --price 70 --break G1");
    assert_eq!(sold["broken"][0]["reservation"], "R1");
    workshop.audit();
    let undone = workshop.json("undo");
    assert_eq!(undone["restored"][0]["held"]["length_m"], "2.05");
    assert_eq!(workshop.json("shelf"), shelf);
    workshop.audit();
}

/// Three lengths of 1 m, each 1.04 m with its end allowance, on 5 m: where 2.50 m are discarded two of them still fit (derived).
#[test]
fn of_a_batch_what_still_fits_stays() {
    let workshop = with_wool();
    workshop.all(&[
        "garment plan apron --count 3 --need 'role=shell,kind=cloth,length=1m,width=1m,preparation=none'",
        "reserve G1 shell --from L1.1",
    ]);
    let promised = || workshop.json("garment show G1")["needs"][0]["units_reserved"].clone();
    assert_eq!(promised(), 3);
    workshop.all(&["discard L1.1 2.50m --reason stained --break G1"]);
    assert_eq!(promised(), 2);
    workshop.audit();
    workshop.all(&["undo"]);
    assert_eq!(promised(), 3);
    workshop.audit();
}

/// Half is sold, then freight of 10.00 comes: 5.00 for what lies here, 5.00 for what is gone. Taken back, all of it lies on the
/// piece again, as if nothing had been sold (derived).
#[test]
fn a_late_charge_on_what_was_sold_is_an_adjustment_until_the_sale_is_taken_back() {
    for line in [
        "sell L1.1 2.50m --price 60",
        "give L1.1 2.50m",
        "discard L1.1 2.50m --reason moths",
    ] {
        let workshop = with_wool();
        workshop.all(&[line, "buy charge P1 'freight=10,by=value'"]);
        assert_eq!(piece(&workshop, "L1", 1)["value"], "55", "{line}");
        assert_eq!(
            went(&workshop, "L1", "adjustment").as_deref(),
            Some("5"),
            "{line}"
        );
        workshop.audit();
        workshop.all(&["undo B3"]);
        assert_eq!(piece(&workshop, "L1", 1)["value"], "110", "{line}");
        assert_eq!(went(&workshop, "L1", "adjustment"), None, "{line}");
        workshop.audit();
    }
}

/// 10 buttons at 1.00 and 10 at 3.00: first in, first out 4 of the second card cost 4.00, by the average of 2.00 they cost 8.00.
/// A later taking does not hinder the undo (derived; IAS 2 paras 25-27).
#[test]
fn thread_and_trims_leave_at_the_cost_of_their_layers() {
    for (method, cost) in [("fifo", "4"), ("average", "8")] {
        let workshop = Workshop::new();
        workshop.all(&[
            &format!("workshop set --name Quill --pooled-method {method}"),
            "buy --line 'material=button,kind=trim,paid=10,price=10'",
            "buy --line 'material=button,kind=trim,paid=10,price=30'",
        ]);
        let before = (
            workshop.json("lot show L1")["stock"].clone(),
            workshop.json("lot show L2")["stock"].clone(),
        );
        let sold = workshop.json("sell L2.1 4 --price 12");
        assert_eq!(
            (&sold["cost"], &sold["taken"]["count"]),
            (&cost.into(), &4.into()),
            "{method}"
        );
        workshop.all(&["give L1.1 3", "audit"]);
        workshop.all(&["undo B5", "undo B4"]);
        let after = (
            workshop.json("lot show L1")["stock"].clone(),
            workshop.json("lot show L2")["stock"].clone(),
        );
        assert_eq!(after, before, "{method}");
        workshop.audit();
    }
}

/// A reel is taken by length, and an empty one is no sale.
#[test]
fn a_length_of_thread_is_given_away() {
    let workshop = Workshop::new();
    workshop.all(&["buy --line 'material=silk,kind=thread,paid=100m,price=10'"]);
    assert_eq!(workshop.json("give L1.1 25m --own-use")["cost"], "2.5");
    workshop
        .run("give L1.1 10m --panel 5cm")
        .refused(1, &["only cloth and interlining"]);
    workshop.audit();
}

/// Nothing is booked into closed books; what was booked before they closed is taken back in the open days.
#[test]
fn closed_books_take_no_gift() {
    let workshop = with_wool();
    workshop
        .run("give L1.1 1m --date 2026-10-01")
        .refused(1, &["L1.1 had not come in on 2026-10-01"]);
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --date 2026-09-01 --line 'material=wool,kind=cloth,paid=5m,price=100,full-width=150cm'",
        "give L1.1 1m --date 2026-09-10",
        "workshop close 2026-09-30",
    ]);
    workshop
        .run("give L1.1 1m --date 2026-09-20")
        .refused(1, &["2026-09-30"]);
    let undone = workshop.json("undo B2");
    assert_eq!(undone["bookings"][0]["on_date"], "2026-10-12");
    workshop.audit();
}

/// Flaws do not keep a piece on the shelf, and come back with it.
#[test]
fn a_flawed_piece_is_discarded_whole() {
    let workshop = with_wool();
    workshop.all(&["lot flaw L1.1 --at 1m --length 10cm"]);
    let before = piece(&workshop, "L1", 1);
    let gone = workshop.json("discard L1.1 --reason 'moth holes'");
    assert_eq!(
        (&gone["taken"]["length_m"], &gone["cost"]),
        (&"5".into(), &"100".into())
    );
    workshop.audit();
    workshop.all(&["undo"]);
    assert_eq!(piece(&workshop, "L1", 1), before);
    workshop.audit();
}

/// A panel of 50 cm × 50 cm: the strip beside it is a piece of its own, and comes back to where it was.
#[test]
fn a_panel_leaves_its_strip_on_the_shelf() {
    let workshop = with_wool();
    let gone = workshop.json("give L1.1 50cm --panel 50cm");
    assert_eq!(gone["made"][0]["piece"], "L1.2");
    assert_eq!(gone["made"][0]["full_width_m"], "1");
    workshop.audit();
    workshop.all(&["undo"]);
    let left = piece(&workshop, "L1", 1);
    assert_eq!(
        (&left["on_hand"]["length_m"], &left["value"]),
        (&"5".into(), &"100".into())
    );
    workshop.audit();
}

/// What is gone was not measured: which act it was is asked for.
#[test]
fn a_measure_of_nothing_says_what_to_book() {
    let workshop = with_wool();
    for found in ["0", "0m", "0cm"] {
        workshop.run(&format!("lot measure L1.1 {found}")).refused(
            1,
            &[
                "L1.1 has 5.00 m in the book",
                "ellwand cut, give, sell or discard L1.1",
            ],
        );
    }
}

/// 2.4814 m are read as 2.481 m: whoever gives that away gives all of it.
#[test]
fn what_is_read_of_a_piece_is_all_of_it() {
    let workshop = Workshop::new();
    workshop
        .all(&["buy --line 'material=linen,kind=cloth,full-width=150cm,paid=2.4814m,price=100'"]);
    let given = workshop.json("give L1.1 2.481m");
    assert_eq!(
        (&given["piece"]["on_hand"]["length_m"], &given["cost"]),
        (&"0".into(), &"100".into())
    );
    workshop.audit();
}

/// 10.00 for what has no price yet: neither cost nor gain is known then, in the history and in the month; a later price changes that
/// of no sale.
#[test]
fn a_sale_of_what_has_no_price_knows_no_gain() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=silk,kind=cloth,paid=4m,price=unknown,full-width=90cm'",
        "sell L1.1 1m --price 10",
        "lot price L1 40",
    ]);
    let sale = workshop.json("history B2")["sale"].clone();
    assert_eq!(
        (&sale["gross"], &sale["cost"], &sale["gain"]),
        (&"10.00".into(), &Value::Null, &Value::Null)
    );
    workshop.all(&["sell L1.1 1m --price 12"]);
    let sold = workshop.json("month")["money"]["goods_sold"].clone();
    // Of the second metre 12.00 less 10.00.
    assert_eq!(
        (
            &sold["count"],
            &sold["amount"],
            &sold["gain"],
            &sold["unpriced"]
        ),
        (&2.into(), &"22.00".into(), &"2.00".into(), &1.into())
    );
    workshop.audit();
}

/// A workshop that charges tax sells something without it.
#[test]
fn a_sale_without_tax_is_said() {
    let workshop = with_wool();
    let sold = workshop.json("sell L1.1 1m --price 30 --tax none");
    assert_eq!(
        (&sold["sale"]["gross"], &sold["sale"]["tax_rate"]),
        (&"30.00".into(), &Value::Null)
    );
    workshop
        .run("sell L1.1 1m --price 30 --tax reduced")
        .refused(1, &["there is no tax rate reduced", "VAT"]);
}
