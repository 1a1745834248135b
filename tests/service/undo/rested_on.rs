//! What brought thread and trims in, or changed what they cost, is not taken back while a later taking rests on it; and only
//! what was changed last is.

use crate::Workshop;

const BUTTONS: &str = "buy --line 'material=button,kind=trim,unit=count,paid=100,price";

/// Two purchases of 100 buttons at these prices (B2, B3), and a garment (B4).
fn stocked(method: &str, prices: [&str; 2]) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        &format!("workshop set --name Quill --pooled-method {method}"),
        &format!("{BUTTONS}={}'", prices[0]),
        &format!("{BUTTONS}={}'", prices[1]),
        "garment plan coat --need 'role=button,kind=trim,count=90,mixing=yes'",
    ]);
    workshop
}

fn worth(workshop: &Workshop) -> (String, i64) {
    let stock = workshop.json("material list")["materials"][0]["stock"].clone();
    (
        stock["value"].as_str().unwrap().to_owned(),
        stock["quantity"]["count"].as_i64().unwrap(),
    )
}

/// Refuses to take `first` back, naming `later`; then both go, the last first.
#[track_caller]
fn rests(workshop: &Workshop, first: &str, later: &str) {
    let before = workshop.dump();
    workshop
        .run(&format!("undo {first} --yes"))
        .refused(1, &[later, "hint: take "]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
    workshop.all(&[
        &format!("undo {later} --yes"),
        &format!("undo {first} --yes"),
    ]);
    workshop.audit();
}

/// 200 buttons for 1,100.00 are 5.50 each, so that 90 cost 495.00. Without the first hundred they would have cost 900.00 of
/// 1,000.00, and ten would not be worth 505.00 (derived from IAS 2 para 27).
#[test]
fn a_purchase_that_an_average_rests_on_stays() {
    let workshop = stocked("average", ["100.00", "1000.00"]);
    assert_eq!(workshop.json("cut G1 button 90 --from L2.1")["cost"], "495");
    rests(&workshop, "B2", "B5");
    assert_eq!(worth(&workshop), ("1000".to_owned(), 100));
    assert_eq!(workshop.json("cut G1 button 90 --from L2.1")["cost"], "900");
    workshop.audit();
}

/// A hundred buttons of which eighty were missing cost 5.00 each: 60 buttons cost 20 × 5.00 + 40 × 1.00 = 140.00 (derived,
/// first in, first out).
#[test]
fn a_measuring_that_a_cost_rests_on_stays() {
    let workshop = stocked("fifo", ["100.00", "100.00"]);
    workshop.all(&["lot measure L1.1 '20 pcs'"]);
    assert_eq!(workshop.json("cut G1 button 60 --from L2.1")["cost"], "140");
    rests(&workshop, "B5", "B6");
    assert_eq!(worth(&workshop), ("200".to_owned(), 200));
}

/// Whatever brings goods in or changes what they cost (common practice): a find, a charge, a credit, what came back from a
/// garment that was given up.
#[test]
fn what_changes_a_cost_stays_while_something_was_taken_at_it() {
    let back = [
        "cut G1 button 3 --from L1.1",
        "garment plan vest --need 'role=button,kind=trim,count=9'",
    ];
    let cases: [(&[&str], &str); 5] = [
        (&[], "lot measure L1.1 '104 pcs'"),
        (&[], "lot measure L1.1 '70 pcs'"),
        (&[], "buy charge P1 freight=10.00"),
        (&[], "buy charge P1 other=-10.00"),
        (
            &back,
            "garment cancel G1 --cut-material shelf --return B5=3",
        ),
    ];
    for method in ["fifo", "average"] {
        for (first, act) in cases {
            let workshop = stocked(method, ["100.00", "300.00"]);
            workshop.all(first);
            let before = worth(&workshop);
            workshop.all(&[act]);
            let own = workshop.json("history")["bookings"][0]["booking"]
                .as_str()
                .unwrap()
                .to_owned();
            workshop.all(&[&format!(
                "cut {} button 5 --from L2.1",
                if first.is_empty() { "G1" } else { "G2" }
            )]);
            let cut = workshop.json("history")["bookings"][0]["booking"]
                .as_str()
                .unwrap()
                .to_owned();
            rests(&workshop, &own, &cut);
            assert_eq!(worth(&workshop), before, "{method}: {act}");
        }
    }
}

/// What was bought after, or lost as normal loss without value, rests on nothing.
#[test]
fn what_rests_on_nothing_is_in_nobodys_way() {
    for method in ["fifo", "average"] {
        let workshop = stocked(method, ["100.00", "300.00"]);
        workshop.all(&[
            "lot measure L1.1 '90 pcs'",
            "lot measure L2.1 '80 pcs'",
            "undo B5 --yes",
        ]);
        assert_eq!(worth(&workshop), ("400".to_owned(), 180), "{method}");
        workshop.audit();
        // A later cut does not hold an earlier one; it returns at the cost it left with.
        workshop.all(&[
            "cut G1 button 10 --from L1.1",
            "cut G1 button 10 --from L1.1",
            "undo B8 --yes",
        ]);
        workshop.audit();
        workshop.all(&["undo B9 --yes"]);
        assert_eq!(worth(&workshop), ("400".to_owned(), 180), "{method}");
        workshop.audit();
    }
}

/// A late charge was shared by where the goods were. Where what had put them there is taken back, its share goes back with them, and
/// the charge itself can go still (derived: 10.00 on 10 m of wool for 100.00, of which 2 m were cut, 20.00 and 2.00).
#[test]
fn a_late_charge_follows_what_goes_back() {
    let wool = "buy --line 'material=wool,kind=cloth,paid=10m,price=100.00,full-width=150cm'";
    let plan = |name: &str| {
        format!(
            "garment plan {name} --need 'role=shell,kind=cloth,length=1.9m,width=140cm,preparation=none'"
        )
    };
    for (acts, piece, coat) in [
        (
            vec![
                "cut G1 shell 2m --from L1.1",
                "garment cancel G1 --cut-material garment=G2",
            ],
            "88",
            "22",
        ),
        (
            vec!["cut G1 shell 2m --from L1.1 --reason own-mistake"],
            "110",
            "0",
        ),
        (vec!["cut G1 shell 2m --from L1.1"], "110", "0"),
        (
            vec!["cut G1 shell 2m --from L1.1", "garment finish G1"],
            "88",
            "22",
        ),
        (
            vec![
                "cut G1 shell 2m --from L1.1",
                "garment cancel G1 --cut-material loss",
            ],
            "88",
            "22",
        ),
        (
            vec![
                "cut G1 shell 2m --from L1.1",
                "garment cancel G1 --cut-material shelf --return B4=1m",
            ],
            "88",
            "22",
        ),
        (vec!["lot split L1.1 2m"], "110", "0"),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[wool, &plan("coat"), &plan("skirt")]);
        workshop.all(&acts);
        workshop.all(&["buy charge P1 freight=10.00"]);
        let last = 3 + acts.len();
        workshop.all(&[&format!("undo B{last} --yes")]);
        workshop.audit();
        let value = |workshop: &Workshop| {
            workshop.json("lot show L1")["pieces"][0]["value"]
                .as_str()
                .unwrap()
                .to_owned()
        };
        assert_eq!(value(&workshop), piece, "{acts:?}");
        assert_eq!(workshop.json("cost G1")["job"]["actual"], coat, "{acts:?}");
        assert_eq!(workshop.json("cost G2")["all"]["actual"], "0", "{acts:?}");
        // And the charge is taken back from where it lies now.
        workshop.all(&[&format!("undo B{} --yes", last + 1)]);
        workshop.audit();
        let without = if coat == "0" { "100" } else { "80" };
        assert_eq!(value(&workshop), without, "{acts:?}");
    }
    // The buttons in hand are of the second lot; the first bears the cost: 50 of 100 for 100.00, 5.00 of the charge.
    for method in ["fifo", "average"] {
        let workshop = stocked(method, ["100.00", "300.00"]);
        workshop.all(&[
            "cut G1 button 50 --from L2.1",
            "buy charge P1 freight=10.00",
        ]);
        let cost = if method == "fifo" { "55" } else { "102.5" };
        assert_eq!(workshop.json("cost G1")["job"]["actual"], cost);
        workshop.all(&["undo B5 --yes"]);
        assert_eq!(worth(&workshop), ("410".to_owned(), 200), "{method}");
        workshop.audit();
        workshop.all(&["undo B6 --yes"]);
        assert_eq!(worth(&workshop), ("400".to_owned(), 200), "{method}");
        workshop.audit();
    }
}

/// Only the last booking that put a piece somewhere is taken back.
#[test]
fn a_place_that_was_overwritten_is_not_taken_back() {
    let place = |workshop: &Workshop| workshop.json("lot show L1")["pieces"][0]["place"].clone();
    for later in ["lot place L1.1 B2", "lot edit L1 --place B2"] {
        let workshop = stocked("fifo", ["100.00", "300.00"]);
        workshop.all(&["lot place L1.1 A1", later]);
        workshop
            .run("undo B5 --yes")
            .refused(1, &["B6 has put L1.1 elsewhere since", "hint: take "]);
        assert_eq!(place(&workshop), "B2");
        workshop.all(&["undo B6 --yes"]);
        assert_eq!(place(&workshop), "A1");
        workshop.all(&["undo B5 --yes"]);
        assert_eq!(place(&workshop), serde_json::Value::Null);
        workshop.audit();
    }
}

/// Each field of a lot's sheet by itself: another field that was set since stays as it is.
#[test]
fn a_field_of_a_sheet_that_was_overwritten_is_not_taken_back() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,colour=white'",
        "lot edit L1 --colour blue --dye-lot 7",
        "lot edit L1 --full-width 148cm",
        "lot edit L1 --colour green",
        "lot edit L1 --dye-lot 8",
    ]);
    workshop
        .run("undo B2 --yes")
        .refused(1, &["B4 has set the colour of L1 since", "hint: take "]);
    workshop.all(&["undo B4 --yes"]);
    workshop
        .run("undo B2 --yes")
        .refused(1, &["B5 has set the dye lot of L1 since", "hint: take "]);
    workshop.all(&["undo B5 --yes", "undo B2 --yes"]);
    let lot = workshop.json("lot show L1");
    assert_eq!(
        (&lot["sheet"]["colour"], &lot["dye_lot"]),
        (&"white".into(), &serde_json::Value::Null)
    );
    assert_eq!(
        lot["sheet"]["full_width_m"], "1.48",
        "the other edit stands"
    );
    workshop.all(&["undo B3 --yes"]);
    assert_eq!(workshop.json("lot show L1")["sheet"]["full_width_m"], "1.5");
    workshop.audit();
}

/// The booking in the way is named wherever something was overwritten.
#[test]
fn what_was_changed_since_is_reported_by_its_booking() {
    let cloth = "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'";
    for (acts, first, says) in [
        (
            [
                "garment edit G1 --name gown",
                "garment edit G1 --name frock",
            ],
            "B3",
            "by B4",
        ),
        (
            ["lot flaw L1.1 --at 1m", "lot measure L1.1 3.9m"],
            "B3",
            "by B4",
        ),
        (
            ["lot measure L1.1 3.9m", "lot flaw L1.1 --at 1m"],
            "B1",
            "by B3",
        ),
        (
            [
                "lot stiffness L1 --lengthwise 62mm --mass 200gsm",
                "lot stiffness L1 --lengthwise 70mm --mass 200gsm",
            ],
            "B3",
            "B4 has set the",
        ),
    ] {
        let workshop = Workshop::new();
        workshop.all(&[
            cloth,
            "garment plan dress --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
        ]);
        workshop.all(&acts);
        workshop
            .run(&format!("undo {first} --yes"))
            .refused(1, &[says, "hint: take "]);
        workshop.all(&["undo B4 --yes", "undo B3 --yes"]);
        workshop.audit();
    }
}

/// Undoing a cut gives its length back to the promise it was drawn from, and says so.
#[test]
fn a_promise_that_holds_more_again_is_reported() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=button,kind=trim,unit=count,paid=20,price=40'",
        "garment plan vest --count 4 --need 'role=buttons,kind=trim,count=3'",
        "reserve G1 --all --yes",
        "cut G1 buttons 9 --reservation R1",
    ]);
    let changed = workshop.json("undo --yes")["changed"].clone();
    assert_eq!(
        (&changed[0]["reservation"], &changed[0]["held"]["count"]),
        (&"R1".into(), &12.into()),
        "{changed}"
    );
    assert_eq!(changed.as_array().unwrap().len(), 1);
}
