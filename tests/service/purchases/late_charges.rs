//! Charges that come after the goods, wherever those are by then.

use crate::Workshop;

const BUTTONS: &str = "buy --line 'material=button,kind=trim,unit=count,paid=100,price=100.00'";

fn workshop(method: &str, purchases: usize) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[&format!(
        "workshop set --name Quill --pooled-method {method}"
    )]);
    for _ in 0..purchases {
        workshop.all(&[BUTTONS]);
    }
    workshop.all(&["garment plan coat --need 'role=button,kind=trim,count=90,mixing=yes'"]);
    workshop
}

fn cost(workshop: &Workshop, garment: &str) -> String {
    workshop.json(&format!("cost {garment}"))["job"]["actual"]
        .as_str()
        .unwrap()
        .to_owned()
}

fn worth(workshop: &Workshop) -> String {
    workshop.json("material list")["materials"][0]["stock"]["value"]
        .as_str()
        .unwrap()
        .to_owned()
}

/// A hundred buttons for 100.00 and two hundred for 400.00.
fn workshop_with_two_garments(method: &str) -> Workshop {
    let workshop = workshop(method, 1);
    workshop.all(&[
        "buy --line 'material=button,kind=trim,unit=count,paid=200,price=400.00'",
        "garment plan vest --need 'role=button,kind=trim,count=90,mixing=yes'",
    ]);
    workshop
}

/// 100 for 100.00, 50 cut, then freight of 10.00: the garment 55.00, the stock 55.00, as if the invoice had been 110.00 (derived).
#[test]
fn a_charge_follows_what_was_taken_of_one_lot() {
    for method in ["fifo", "average"] {
        let workshop = workshop(method, 1);
        workshop.all(&[
            "cut G1 button 50 --from L1.1",
            "buy charge P1 freight=10.00",
        ]);
        assert_eq!(
            (cost(&workshop, "G1"), worth(&workshop)),
            ("55".to_owned(), "55".to_owned()),
            "{method}"
        );
        workshop.audit();
    }
}

/// Two such lots, 100 of 200 used, 10.00 on each in either order: 110.00 and 110.00 (derived: 220.00 for 200).
#[test]
fn a_charge_follows_its_share_of_every_taking_from_a_pool() {
    for order in [["P1", "P2"], ["P2", "P1"]] {
        let workshop = workshop("average", 2);
        workshop.all(&["cut G1 button 100 --from L1.1"]);
        for purchase in order {
            workshop.all(&[&format!("buy charge {purchase} freight=10.00")]);
        }
        assert_eq!(
            (cost(&workshop, "G1"), worth(&workshop)),
            ("110".to_owned(), "110".to_owned())
        );
        workshop.audit();
        // Taken back and booked anew it is the same.
        workshop.all(&["undo --yes", "undo --yes", "undo --yes"]);
        assert_eq!(worth(&workshop), "200");
        workshop.audit();
    }
}

/// Goods that were missing leave their cost with the rest; those that were spoiled take it along, so that their share of the charge
/// is an adjustment (derived: 100 of 100.00, 20 missing, 40 of 80 spoiled).
#[test]
fn a_charge_stays_with_the_value_of_what_was_missing_and_goes_with_what_was_spoiled() {
    for method in ["fifo", "average"] {
        let workshop = workshop(method, 1);
        workshop.all(&[
            "lot measure L1.1 '80 pcs'",
            "cut G1 button 40 --from L1.1 --reason own-mistake",
            "buy charge P1 freight=10.00",
        ]);
        assert_eq!(worth(&workshop), "55", "{method}");
        assert_eq!(cost(&workshop, "G1"), "0");
        workshop.audit();
    }
}

/// A taking that is taken back brings its share back, too; a later purchase has none in what was taken before.
#[test]
fn a_charge_knows_what_came_back_and_what_came_later() {
    let workshop = workshop("average", 1);
    workshop.all(&[
        "garment plan vest --need 'role=button,kind=trim,count=90,mixing=yes'",
        "cut G1 button 50 --from L1.1",
        "cut G2 button 25 --from L1.1",
        BUTTONS,
        "undo B5 --yes",
        "buy charge P2 freight=10.00",
        "buy charge P1 freight=10.00",
    ]);
    // A quarter of the first lot went to G2, nothing of the second.
    assert_eq!(
        (cost(&workshop, "G1"), cost(&workshop, "G2")),
        ("0".to_owned(), "27.5".to_owned())
    );
    assert_eq!(worth(&workshop), "192.5");
    // Taken back, it brings its quarter of the charge along.
    workshop.all(&["undo B6 --yes"]);
    assert_eq!(cost(&workshop, "G2"), "0");
    assert_eq!(worth(&workshop), "220");
    workshop.audit();
}

/// Wool of 10 m for 100.00, 2 m cut, freight 10.00, given up with its cloth back on the shelf: the offcut is worth 22.00 and nothing
/// is lost (derived).
#[test]
fn what_goes_back_to_the_shelf_takes_its_late_charges_along() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,paid=10m,price=100.00,full-width=150cm'",
        "garment plan coat --need 'role=shell,kind=cloth,length=1.9m,width=140cm,preparation=none'",
        "cut G1 shell 2m --from L1.1",
        "buy charge P1 freight=10.00",
        "garment cancel G1 --cut-material shelf --return B3=2m",
    ]);
    let pieces = workshop.json("lot show L1")["pieces"].clone();
    assert_eq!(
        (&pieces[0]["value"], &pieces[1]["value"]),
        (&"88".into(), &"22".into()),
        "{pieces}"
    );
    workshop.audit();
    // The sheet of a garment that was given up tells what it had cost, and where that went.
    let report = workshop.json("cost G1")["notes"].to_string();
    assert!(
        report.contains("22.00 to the shelf") && !report.contains("loss"),
        "{report}"
    );
    workshop.all(&["undo --yes"]);
    assert_eq!(cost(&workshop, "G1"), "22");
    workshop.audit();
}

/// Half of the cloth, of two cuts one before the charge and one after it; and trims by either method.
#[test]
fn each_cut_takes_its_own_late_charges_back() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,paid=10m,price=100.00,full-width=150cm'",
        "garment plan coat --need 'role=shell,kind=cloth,length=1.9m,width=140cm,preparation=none'",
        "cut G1 shell 2m --from L1.1",
        "buy charge P1 freight=10.00",
        "cut G1 shell 2m --from L1.1 --really",
        "garment cancel G1 --cut-material shelf --return B3=1m --return B5=2m",
    ]);
    let pieces = workshop.json("lot show L1")["pieces"].clone();
    let values: Vec<&str> = pieces
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| piece["value"].as_str().unwrap())
        .collect();
    assert_eq!(values, ["66", "11", "22"], "{pieces}");
    workshop.audit();
    for method in ["fifo", "average"] {
        let workshop = workshop_with_two_garments(method);
        workshop.all(&[
            "cut G1 button 150 --from L2.1",
            "buy charge P1 freight=10.00",
            "buy charge P2 freight=20.00",
            "garment cancel G1 --cut-material shelf --return B6=150",
        ]);
        assert_eq!(worth(&workshop), "530", "{method}");
        workshop.audit();
        // What came back is charged like what had never left.
        workshop.all(&["buy charge P1 duty=10.00", "cut G2 button 10 --from L2.1"]);
        // 120.00 for a hundred of the first lot; 540.00 for three hundred of both.
        let left = if method == "fifo" { "528" } else { "522" };
        assert_eq!(worth(&workshop), left, "{method}");
        workshop.audit();
    }
}

/// The answer names the booking that was made, so that it can be taken back.
#[test]
fn a_late_charge_answers_with_its_own_booking() {
    let workshop = workshop("fifo", 1);
    assert_eq!(
        workshop.json("buy charge P1 freight=10.00")["booking"],
        "B4"
    );
    assert_eq!(workshop.json("buy show P1")["booking"], "B2");
    workshop.all(&["undo B4 --yes"]);
}

/// Counted trims are counted in the history, whatever values them.
#[test]
fn buttons_are_counted_in_the_history() {
    for method in ["fifo", "average"] {
        let workshop = workshop(method, 1);
        workshop.all(&["cut G1 button 90 --from L1.1"]);
        let movements = workshop.json("history --limit 1")["bookings"][0]["movements"].clone();
        for movement in movements.as_array().unwrap() {
            assert_eq!(movement["quantity"]["count"], 90, "{method}: {movement}");
        }
    }
}

/// 50.005 and 49.999 are 100.004, 33.334666… for each of three: 33.33, exact cost ÷ good, rounded once (derived). Printed line by line
/// they would be 50.01 and 50.00, a third of which is 33.34.
#[test]
fn one_of_a_batch_costs_the_same_on_every_sheet() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,paid=10m,price=100.01,full-width=150cm'",
        "buy --line 'material=silk,kind=cloth,paid=10m,price=100.00,full-width=150cm'",
        "garment plan coat --count 3 --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none' \
         --need 'role=lining,kind=cloth,length=1m,width=140cm,preparation=none'",
        "cut G1 shell 5m --from L1.1",
        "cut G1 lining 499.99cm --from L2.1",
        "garment finish G1",
    ]);
    assert_eq!(
        workshop.json("cost G1")["per_good"]["each_printed"],
        "33.33"
    );
    let quoted = workshop.json("quote make G1 --from actual --markup 50%");
    assert_eq!(quoted["inside"]["batch"]["cost_each_printed"], "33.33");
}

/// The same freight on the same purchase is asked about; another amount is not, nor one that was taken back.
#[test]
fn the_same_charge_twice_is_asked_about() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,paid=10m,price=100.00,full-width=150cm'",
        "buy charge P1 freight=10.00",
    ]);
    let before = workshop.dump();
    workshop.run("buy charge P1 freight=10.00").refused(
        1,
        &[
            "a freight of 10.00 EUR was already added to P1 (B2)",
            "--really",
        ],
    );
    assert_eq!(workshop.dump(), before);
    workshop.all(&[
        "buy charge P1 freight=10.01",
        "undo",
        "undo B2",
        "buy charge P1 freight=10.00",
    ]);
    workshop.audit();
}
