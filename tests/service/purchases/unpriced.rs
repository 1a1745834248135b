//! Lots that came without a price, and the price that comes later.

use crate::Workshop;
use serde_json::Value;

const WOOL: &str = "buy --line 'material=wool,kind=cloth,paid=10m,price=unknown,full-width=150cm'";
const COAT: &str = "garment plan coat --need \
                    'role=shell,kind=cloth,material=wool,length=1.96m,width=140cm,preparation=none'";
const BUTTONS: &str = "buy --line 'material=button,kind=trim,unit=count,paid=100,price=unknown'";

/// Exact actual cost of the job, and the value of each piece of the lot.
fn costs(workshop: &Workshop, garment: &str, lot: &str) -> (Value, Vec<Value>) {
    let pieces = workshop.json(&format!("lot show {lot}"))["pieces"].clone();
    let pieces = pieces.as_array().unwrap();
    (
        workshop.json(&format!("cost {garment}"))["job"]["actual"].clone(),
        pieces.iter().map(|piece| piece["value"].clone()).collect(),
    )
}

fn stock(workshop: &Workshop) -> Value {
    workshop.json("material list")["materials"][0]["stock"].clone()
}

/// 10 m, of which 2 m are in a garment and 1 m was spoiled: at 100.00 the garment has 20.00, the shelf 70.00, and 10.00 are an
/// adjustment (derived), as if the price had come as a late charge.
#[test]
fn a_price_that_comes_later_goes_where_the_cloth_is() {
    let workshop = Workshop::new();
    workshop.all(&[
        WOOL,
        COAT,
        "cut G1 shell 2m --from L1.1",
        "cut G1 shell 1m --from L1.1 --reason own-mistake --really",
    ]);
    let lot = workshop.json("lot show L1");
    assert_eq!(
        (&lot["unpriced"], &lot["landed"]),
        (&true.into(), &"0".into())
    );
    assert_eq!(costs(&workshop, "G1", "L1").0, Value::Null, "not zero");
    let shelf = workshop.json("shelf");
    assert_eq!(shelf["pieces"][0]["unpriced"], true);
    assert_eq!(shelf["pieces"][0]["value"], "0");
    workshop.audit();

    let priced = workshop.json("lot price L1 100.00");
    assert_eq!(priced["lines"][0]["price"], "100.00");
    assert_eq!(priced["home_total"], "100");
    assert!(
        priced["notes"]
            .to_string()
            .contains("10.00 EUR of it is for what is no longer here")
    );
    assert_eq!(
        costs(&workshop, "G1", "L1"),
        ("20".into(), vec!["70".into()])
    );
    assert_eq!(workshop.json("lot show L1")["unpriced"], false);
    workshop.audit();

    workshop.all(&["undo --yes"]);
    let mut again = workshop.json("lot show L1");
    again["version"] = lot["version"].clone();
    assert_eq!(again, lot, "as it was");
    assert_eq!(
        workshop.json("buy show P1")["lines"][0]["price"],
        Value::Null
    );
    workshop.audit();
    // A metre at 10.00 of the ten that were paid for.
    workshop.all(&["lot price L1 10.00/m"]);
    assert_eq!(
        costs(&workshop, "G1", "L1"),
        ("20".into(), vec!["70".into()])
    );
}

/// What was planned of a lot without a price has none once it is cut, and gets it with the lot: 2 m of 10 m for 100.00 (derived).
#[test]
fn a_plan_without_a_price_is_not_planned_at_nothing() {
    for cut in [
        "reserve G1 shell --from L1.1; cut G1 shell",
        "cut G1 shell 2m --from L1.1",
    ] {
        let workshop = Workshop::new();
        workshop.all(&[WOOL, COAT]);
        workshop.all(&cut.split("; ").collect::<Vec<_>>());
        let planned = || {
            let line = workshop.json("cost G1")["lines"][0].clone();
            (
                line["planned_known"].clone(),
                line["cost"]["planned"].clone(),
            )
        };
        assert_eq!(planned(), (false.into(), Value::Null), "{cut}");
        workshop.all(&["lot price L1 100.00"]);
        assert_eq!(planned(), (true.into(), "20".into()), "{cut}");
        let sheet = workshop.json("cost G1").to_string();
        assert!(
            sheet.contains("price logged later") && !sheet.contains("late charge"),
            "{sheet}"
        );
        workshop.audit();
    }
}

/// The cut goes back to the shelf and its share of the price with it; the purchase stays while the price stands.
#[test]
fn undo_takes_the_share_of_a_price_along() {
    let workshop = Workshop::new();
    workshop.all(&[
        WOOL,
        COAT,
        "cut G1 shell 2m --from L1.1",
        "lot price L1 100.00",
    ]);
    workshop
        .run("undo B1 --yes")
        .refused(1, &["P1 has late charges, the first of them by B4"]);
    workshop.all(&["undo B3 --yes"]);
    assert_eq!(
        costs(&workshop, "G1", "L1"),
        ("0".into(), vec!["100".into()])
    );
    workshop.audit();
    workshop.all(&["undo B4 --yes", "undo B1 --yes"]);
    workshop.audit();
}

/// 5.00 of carriage on two lots: by the price of one that has none it cannot be shared, by length it can (derived: 3.00 and 2.00).
/// A price is not forgotten while a charge rests on it.
#[test]
fn a_charge_by_price_asks_for_another_key_until_the_price_is_known() {
    let workshop = Workshop::new();
    let two = "buy --line 'material=wool,kind=cloth,paid=6m,price=?,full-width=150cm' \
               --line 'material=silk,kind=cloth,paid=4m,price=80.00,full-width=90cm'";
    workshop.run(&format!("{two} --charge freight=5.00")).refused(
        1,
        &["charge 1 is shared by price, but line 1 has no price; give it or share by something else"],
    );
    workshop.all(&[&format!("{two} --charge freight=5.00,by=length")]);
    let landed = |line: usize| workshop.json("buy show P1")["lines"][line]["landed"].clone();
    assert_eq!((landed(0), landed(1)), ("3".into(), "82".into()));
    workshop
        .run("buy charge P1 freight=5.00")
        .refused(1, &["line 1 has no price"]);
    workshop.all(&["lot price L1 120.00", "buy charge P1 freight=5.00"]);
    // 120.00 and 80.00 share 5.00 as 3.00 and 2.00.
    assert_eq!((landed(0), landed(1)), ("126".into(), "84".into()));
    workshop
        .run("undo B2 --yes")
        .refused(1, &["B3 shared a charge by the price of L1"]);
    workshop.all(&["undo B3 --yes", "undo B2 --yes"]);
    assert_eq!((landed(0), landed(1)), ("3".into(), "82".into()));
    workshop.audit();
}

/// 100 buttons, 50 taken before their price of 100.00 is known: the garment gets 50.00 afterwards. What was taken since keeps the
/// price from being forgotten.
#[test]
fn layers_and_pools_give_what_was_taken_its_share_of_the_price() {
    for method in ["fifo", "average"] {
        let workshop = Workshop::new();
        workshop.all(&[
            &format!("workshop set --name Quill --pooled-method {method}"),
            BUTTONS,
            "garment plan coat --need 'role=button,kind=trim,count=90,mixing=yes'",
            "cut G1 button 50 --from L1.1",
        ]);
        assert_eq!(stock(&workshop)["unpriced"], true, "{method}");
        workshop.all(&["lot price L1 100.00"]);
        assert_eq!(stock(&workshop)["unpriced"], false);
        assert_eq!(stock(&workshop)["value"], "50", "{method}");
        assert_eq!(workshop.json("cost G1")["job"]["actual"], "50");
        workshop.audit();
        workshop.all(&["cut G1 button 10 --from L1.1"]);
        workshop
            .run("undo B5 --yes")
            .refused(1, &["B6 took a share of the charge with it"]);
        workshop.all(&["undo B6 --yes", "undo B5 --yes"]);
        assert_eq!(stock(&workshop)["value"], "0", "{method}");
        workshop.audit();
    }
}

/// A pool of 100 at 100.00 and 100 without a price: 100 of them cost 50.00 and something that is not known. With 100.00 for the others
/// they cost 100.00 (derived).
#[test]
fn a_pool_with_unpriced_goods_is_marked() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --pooled-method average",
        "buy --line 'material=button,kind=trim,unit=count,paid=100,price=100.00'",
        BUTTONS,
        "garment plan coat --need 'role=button,kind=trim,count=100,mixing=yes'",
    ]);
    assert_eq!(
        (&stock(&workshop)["value"], &stock(&workshop)["unpriced"]),
        (&"100".into(), &true.into())
    );
    let found = workshop.json("candidates G1")["needs"][0]["serve"][0].clone();
    assert_eq!(
        (&found["cost"], &found["cost_certainty"]),
        (&Value::Null, &"unknown".into())
    );
    workshop.all(&["cut G1 button 100 --from L1.1"]);
    let cost = workshop.json("cost G1");
    assert_eq!(cost["job"]["actual"], Value::Null);
    assert!(cost["notes"].to_string().contains("not priced"), "{cost}");
    workshop.all(&["lot price L2 100.00"]);
    assert_eq!(workshop.json("cost G1")["job"]["actual"], "100");
    assert_eq!(stock(&workshop)["value"], "100");
    workshop.audit();
}

/// What is finished keeps its cost: its share is an adjustment. Closed books take no price.
#[test]
fn a_price_neither_changes_what_is_finished_nor_closed_books() {
    let workshop = Workshop::new();
    workshop.all(&[
        WOOL,
        COAT,
        "cut G1 shell 2m --from L1.1 --last",
        "garment finish G1 --really",
        "workshop close 2026-10-11 --yes",
    ]);
    workshop
        .run("lot price L1 100.00 --date 2026-10-11")
        .refused(1, &["the books are closed up to 2026-10-11"]);
    workshop.all(&["lot price L1 100.00"]);
    assert_eq!(costs(&workshop, "G1", "L1").1, ["80"]);
    let went = workshop.json("lot show L1")["value_went"].clone();
    assert_eq!(
        (&went[0]["place"], &went[0]["value"]),
        (&"adjustment".into(), &"20".into()),
        "{went}"
    );
    workshop.audit();
}

/// A foreign lot is priced at the rate of its purchase, or at the one that is typed: 100.00 at 1.20 is 120.00, at 1.10 110.00.
#[test]
fn a_later_price_is_converted_like_its_purchase() {
    let workshop = Workshop::new();
    workshop.all(&["buy --currency GBP --rate 1.20 --really \
                    --line 'material=wool,kind=cloth,paid=10m,price=unknown,full-width=150cm'"]);
    workshop.all(&["lot price L1 100.00"]);
    assert_eq!(costs_of_lot(&workshop), "120");
    workshop.all(&[
        "undo --yes",
        "lot price L1 'GBP 100.00' --rate 1.10 --really",
    ]);
    assert_eq!(costs_of_lot(&workshop), "110");
    workshop.audit();
}

fn costs_of_lot(workshop: &Workshop) -> Value {
    workshop.json("lot show L1")["landed"].clone()
}

/// 2.00 m at 12.50 a metre are 25.00, estimated (derived); without that there is no price and no offer.
#[test]
fn a_quotation_uses_the_replacement_price_or_none() {
    let workshop = Workshop::new();
    workshop.all(&[WOOL, COAT, "reserve G1 shell --from L1.1"]);
    let sheet = workshop.json("cost G1");
    assert_eq!(sheet["lines"][0]["cost"]["planned"], Value::Null);
    assert!(
        sheet["notes"]
            .to_string()
            .contains("the price of L1 is not known"),
        "{sheet}"
    );
    workshop
        .run("quote make G1 --margin 50%")
        .refused(1, &["nothing of it is priced"]);
    workshop.all(&[
        "workshop pay-rate owner 24.00",
        "garment edit G1 --operation 'name=sewing,kind=machine,planned=1h'",
    ]);
    let quoted = workshop.json("quote make G1 --margin 50%");
    assert_eq!(
        quoted["inside"]["not_priced"],
        serde_json::json!(["shell (2.00 m): the price of L1 is not known"])
    );
    assert_eq!(
        quoted["sheet"]["to_be_priced"],
        serde_json::json!(["shell"]),
        "no offer"
    );

    let workshop = Workshop::new();
    let own = WOOL.replace("price=unknown", "price=unknown,replacement=12.50/m");
    workshop.all(&[&own, COAT, "reserve G1 shell --from L1.1"]);
    let promise = workshop.json("garment promises G1")["reservations"][0].clone();
    assert_eq!(
        (&promise["cost"], &promise["cost_certainty"]),
        (&"25".into(), &"estimated".into())
    );
    let sheet = workshop.json("cost G1");
    assert_eq!(sheet["lines"][0]["cost"]["planned"], "25");
    assert!(
        sheet["lines"][0]["detail"]
            .as_str()
            .unwrap()
            .ends_with("at its replacement price"),
        "{sheet}"
    );
    workshop.all(&["quote make G1 --margin 50%"]);
    let quoted = workshop.json("quote show Q1");
    let cost = &quoted["inside"]["costs"][0];
    assert_eq!(cost["certainty"], "estimated", "{quoted}");
    // Cut, it is the replacement price still; priced, the book's own: 2 m of 10 m for 80.00 are 16.00.
    workshop.all(&["cut G1 shell 2m"]);
    assert_eq!(workshop.json("cost G1")["job"]["actual"], "25");
    assert_eq!(workshop.json("shelf")["pieces"][0]["value"], "0");
    workshop.all(&["lot price L1 80.00"]);
    assert_eq!(workshop.json("cost G1")["job"]["actual"], "16");
    workshop.audit();
}

#[test]
fn a_price_is_logged_once_and_only_where_there_is_none() {
    let workshop = Workshop::new();
    workshop.all(&[
        WOOL,
        "buy --line 'material=silk,kind=cloth,paid=4m,price=0,full-width=90cm,owner=Ada'",
    ]);
    workshop
        .run("lot price L1 unknown")
        .refused(1, &["it is unknown already"]);
    workshop
        .run("lot price L2 5.00")
        .refused(1, &["L2 belongs to C1, so it has no price"]);
    workshop.all(&["lot price L1 0"]);
    assert_eq!(workshop.json("lot show L1")["unpriced"], false, "a gift");
    workshop.run("lot price L1 24.00").refused(
        1,
        &[
            "the price of L1 is known: 0.00 EUR",
            "ellwand buy charge P1 'other=5.00,lines=1'",
        ],
    );
    workshop.all(&["undo --yes"]);
    assert_eq!(workshop.json("lot show L1")["unpriced"], true);
    for (line, says) in [
        (
            "paid=1m,price=5.00,replacement=6.00/m",
            "for what has no price of its own",
        ),
        (
            "paid=1m,price=unknown,replacement=6.00/kg",
            "the price is per mass",
        ),
        ("paid=1m,price=unknown,replacement=0", "more than zero"),
        ("paid=1m,price=unknown,owner=Ada", "so it has no price"),
    ] {
        let line = format!("buy --line 'material=linen,kind=cloth,full-width=150cm,{line}'");
        workshop.run(&line).refused(1, &[says]);
    }
    workshop.audit();
}

/// A lot that is priced at last is worth what it would be had the price been known at once: a panel of 60 cm with its strip kept, a
/// wash that takes 10 %, a length measured anew, a cut before and one after.
#[test]
fn a_later_price_is_worth_what_an_earlier_one_would_have_been() {
    let acts = [
        "garment plan coat --count 9 --need 'role=shell,kind=cloth,length=1m,width=50cm,preparation=none'",
        "garment plan vest --count 9 --need 'role=shell,kind=cloth,length=1m,width=50cm,preparation=none'",
        "cut G1 shell 2m --from L1.1 --panel 60cm --keep-strip",
        "cut G2 shell 1m --from L1.1",
        "wash done L1.1 --preparation washed --length 6.30m --width 1.425m",
        "cut G1 shell 1m --from L1.1 --really",
        "cut G2 shell 1m --from L1.2 --reason own-mistake --really",
        "lot split L1.1 2m",
    ];
    let known = Workshop::new();
    known.all(&[&WOOL.replace("price=unknown", "price=90.00")]);
    known.all(&acts);
    let later = Workshop::new();
    later.all(&[WOOL]);
    later.all(&acts);
    later.all(&["lot price L1 90.00"]);
    for workshop in [&known, &later] {
        workshop.audit();
    }
    let worth = |workshop: &Workshop| -> Vec<i64> {
        let pieces = costs(workshop, "G1", "L1").1;
        let garments = ["G1", "G2"].map(|garment| costs(workshop, garment, "L1").0);
        let values = pieces.into_iter().chain(garments);
        values
            .map(|value| {
                let cents = value.as_str().unwrap().parse::<f64>().unwrap() * 100.0;
                cents.round() as i64
            })
            .collect()
    };
    let (known, later) = (worth(&known), worth(&later));
    let apart = known
        .iter()
        .zip(&later)
        .map(|(one, other)| (one - other).abs());
    assert!(apart.max() <= Some(1), "{known:?} {later:?}");
}
