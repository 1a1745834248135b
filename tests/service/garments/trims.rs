//! Trims: sizes, sets that match, spares and what comes near.

use crate::Workshop;
use crate::stories::trims::{cards, need, picks};

/// 18 L are 11.43 mm (sizes.com); 11.9 mm pass for it, and are taken only where the right size does not reach.
#[test]
fn the_exact_size_is_taken_before_one_that_is_a_little_off() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=near,kind=trim,size=11.9mm,paid=6,price=1.00'",
        "buy --line 'material=exact,kind=trim,size=18L,paid=12,price=9.00'",
        "lot split L2.1 6",
        "garment plan shirt --need 'role=buttons,kind=trim,count=6,size=18L'",
        "garment plan coat --need 'role=buttons,kind=trim,count=10,size=18L'",
        "garment plan batch --count 3 --need 'role=buttons,kind=trim,count=6,size=18L,mixing=yes'",
    ]);
    let lots = |garment: &str| {
        let mut lots: Vec<String> = picks(&workshop, garment)
            .into_iter()
            .map(|(piece, ..)| piece)
            .collect();
        lots.sort();
        lots
    };
    assert_eq!(
        workshop.json("candidates G1")["needs"][0]["serve"][0]["name"],
        "exact"
    );
    assert!(
        lots("G1").iter().all(|piece| piece.starts_with("L2.")),
        "{:?}",
        lots("G1")
    );
    // Ten are joined from two cards of the right size.
    assert_eq!(lots("G2"), ["L2.1", "L2.2"]);
    // Eighteen need both sizes.
    assert_eq!(lots("G3"), ["L1.1", "L2.1", "L2.2"]);
}

/// Two cut, then four by the customer's change, which fill the set: each is taken back by itself, and what it took is promised
/// again.
#[test]
fn the_cuts_of_a_set_are_taken_back_in_any_order() {
    let workshop = cards();
    workshop.all(&[
        "garment plan vest --need 'role=buttons,kind=trim,count=6,lot=L1'",
        "reserve G1 buttons --from L1.2:2 --from L1.1:4",
        "cut G1 buttons --reservation R1",
        "cut G1 buttons --reservation R2 --reason customer-change",
    ]);
    assert_eq!(need(&workshop, "G1")["units_cut"], 1);
    workshop.all(&["undo B8 --yes"]);
    let counts = |workshop: &Workshop| {
        let vest = need(workshop, "G1");
        [vest["units_cut"].clone(), vest["units_reserved"].clone()]
    };
    assert_eq!(counts(&workshop), [0, 1], "four are cut, two promised");
    workshop.all(&["undo B9 --yes"]);
    assert_eq!(counts(&workshop), [0, 1], "all six are promised");
    workshop.audit();
}

/// Two of six are cut, and a whole set is promised elsewhere: four more have no garment to serve.
#[test]
fn a_part_joins_a_set_only_while_its_need_has_a_unit_open() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=button,kind=trim,paid=20,price=20'",
        "garment plan vest --need 'role=buttons,kind=trim,count=6'",
        "reserve G1 buttons --from L1.1:2",
        "cut G1 buttons",
        "reserve G1 buttons --from L1.1",
    ]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 1);
    workshop
        .run("reserve G1 buttons --from L1.1:4")
        .refused(1, &["the buttons is already fully promised or cut"]);
    // A set begun elsewhere stands for the unit too: what is promised joins that one.
    workshop.all(&[
        "release R2",
        "reserve G1 buttons --from L1.1:1",
        "reserve G1 buttons --from L1.1:3",
    ]);
    let vest = need(&workshop, "G1");
    assert_eq!(
        (&vest["units_cut"], &vest["units_reserved"]),
        (&0.into(), &1.into())
    );
    workshop.audit();
}

#[test]
fn a_set_has_one_last_day_and_another_is_refused() {
    let workshop = cards();
    workshop.all(&[
        "garment plan vest --need 'role=buttons,kind=trim,count=6'",
        "reserve G1 buttons --from L1.1:2 --until 2026-12-20",
    ]);
    workshop
        .run("reserve G1 buttons --from L1.2:2 --until 2026-12-24")
        .refused(1, &["is promised until 2026-12-20"]);
    workshop.all(&[
        "reserve G1 buttons --from L1.2:1 --until 2026-12-20",
        "reserve G1 buttons --from L1.2:1",
    ]);
    assert_eq!(
        need(&workshop, "G1")["reservations"][2]["until"],
        "2026-12-20"
    );
    // What was cut of a set has no day: the rest takes what is asked.
    workshop.all(&["cut G1 buttons --reservation R1", "release --garment G1"]);
    workshop.all(&["reserve G1 buttons --from L1.2:2 --until 2026-12-24"]);
    assert_eq!(
        need(&workshop, "G1")["reservations"][3]["until"],
        "2026-12-24"
    );
    workshop
        .run("reserve G1 buttons --from L1.1:2 --until 2026-12-25")
        .refused(1, &["until 2026-12-24"]);
    workshop.audit();
}

#[test]
fn a_release_is_not_taken_back_once_the_set_was_filled_otherwise() {
    let workshop = cards();
    workshop.all(&[
        "garment plan vest --need 'role=buttons,kind=trim,count=5'",
        "reserve G1 buttons --from L1.1:3 --from L1.2:2",
        "release R2",
        "reserve G1 buttons --from L1.1:1",
    ]);
    workshop
        .run("undo B8 --yes")
        .refused(1, &["R2 is no longer needed: it held 2", "lacks only 1"]);
    workshop.all(&["reserve G1 buttons --from L1.2:1"]);
    workshop.run("undo B8 --yes").refused(
        1,
        &[
            "R2 is no longer needed",
            "the buttons is already fully promised or cut",
        ],
    );
    // What took its place is released: it is made again.
    workshop.all(&["release R3", "release R4", "undo B8 --yes"]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 1);
    workshop.audit();
}

#[test]
fn a_need_without_matching_may_be_promised_part_by_part() {
    let workshop = cards();
    workshop.all(&[
        "garment plan vest --need 'role=buttons,kind=trim,count=7,colour=brown'",
        "reserve G1 buttons --from L1.1:4",
    ]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 0);
    workshop
        .run("reserve G1 buttons --from L3.1:3")
        .refused(1, &["not of L1, the lot already taken"]);
    workshop
        .run("cut G1 buttons 2 --count 1")
        .refused(1, &["a shared set of the buttons counts by itself"]);
    // The part is cut first, the rest joins the same set.
    workshop.all(&[
        "cut G1 buttons",
        "reserve G1 buttons --from L1.2:3",
        "cut G1 buttons",
    ]);
    let vest = need(&workshop, "G1");
    assert_eq!(
        (&vest["units_cut"], &vest["used"][0]["taken"]["count"]),
        (&1.into(), &7.into())
    );
    workshop.audit();
}

/// A longer zip may be shortened (common practice): it is offered, and never taken silently.
#[test]
fn a_longer_zip_is_offered_and_a_shorter_one_is_not() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=zip,kind=trim,size=50cm,colour=navy,paid=2,price=4'",
        "buy --line 'material=zip,kind=trim,size=60cm,colour=navy,paid=2,price=4'",
        "buy --line 'material=zip,kind=trim,size=75cm,colour=navy,paid=1,price=4'",
        "garment plan skirt --need 'role=zip,kind=trim,count=1,size=55cm,colour=navy'",
    ]);
    let found = workshop.json("candidates G1")["needs"][0].clone();
    assert_eq!(found["picks"].as_array().unwrap().len(), 0);
    let near: Vec<&str> = found["near"]
        .as_array()
        .unwrap()
        .iter()
        .map(|lot| lot["lot"].as_str().unwrap())
        .collect();
    assert_eq!(near, ["L2", "L3"]);
    assert_eq!(
        found["near"][0]["because"],
        "longer: 60 cm for 55 cm, it can be shortened"
    );
    workshop
        .run("reserve G1 zip --from L2.1")
        .refused(1, &["it is 60 cm, the need asks for 55 cm"]);
    workshop.all(&[
        "garment edit G1 --need 'role=zip,kind=trim,count=1,size=60cm,colour=navy'",
        "reserve G1 zip --from L2.1",
    ]);
}
