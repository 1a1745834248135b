//! `ellwand help trims`: sizes, sets that match, spares, what comes near, and what is kept for repairs.

use crate::Workshop;
use crate::stories::trims::{cards, need, picks};
use serde_json::Value;

const COAT: &str = "garment plan coat --need 'role=buttons,kind=trim,count=6,size=24L,colour=brown,matching=yes,spares=1'";

/// sizes.com and textiles.md g-2, g-5: 24 L is 15.24 mm; 15 mm is 23.6 L and its nearest size 24 L. Spares stand apart.
#[test]
fn a_need_tells_its_size_both_ways_and_its_spares_apart() {
    let workshop = cards();
    workshop.all(&[
        COAT,
        "garment plan vest --need 'role=buttons,kind=trim,count=5,size=15mm'",
    ]);
    let coat = need(&workshop, "G1");
    assert_eq!(coat["amount"], "6 pcs + 1 spare");
    assert_eq!((&coat["count"], &coat["spares"]), (&6.into(), &1.into()));
    assert_eq!(coat["size"], "24 L = 15.24 mm");
    let report = workshop.run("garment show G2").done().out;
    assert!(
        report.contains("size 15 mm = 23.6 L, nearest 24 L"),
        "{report}"
    );
    // 5 mm is 7.9 L, far from the smallest size: none is named.
    workshop.all(&["garment plan doll --need 'role=buttons,kind=trim,count=2,size=5mm'"]);
    let report = workshop.run("garment show G3").done().out;
    assert!(
        report.contains("7.9 L") && !report.contains("nearest"),
        "{report}"
    );
    // Shop charts round: within 0.5 mm it is the same size.
    let serve = workshop.json("candidates G2")["needs"][0]["serve"].clone();
    let lots: Vec<&str> = serve
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| piece["piece"].as_str().unwrap())
        .collect();
    assert!(
        lots.contains(&"L4.1") && lots.contains(&"L2.1") && !lots.contains(&"L3.1"),
        "{lots:?}"
    );
}

#[test]
fn a_set_is_joined_from_two_cards_of_one_lot() {
    let workshop = cards();
    workshop.all(&[COAT]);
    // Six and a spare: four on one card, three on the other; no other lot is brown, 24 L and has seven.
    let expected = [
        ("L1.1".to_owned(), Value::Null, 4.into()),
        ("L1.2".to_owned(), Value::Null, 3.into()),
    ];
    assert_eq!(picks(&workshop, "G1"), expected);
    let report = workshop.run("candidates G1").done();
    assert!(
        report
            .err
            .contains("reserve G1 buttons --from L1.1:4 --from L1.2:3"),
        "{}",
        report.err
    );
    let all = workshop.run("reserve G1 --all --yes").done();
    insta::assert_snapshot!("joined", format!("{}{}", all.out, all.err));
    let coat = need(&workshop, "G1");
    assert_eq!(
        (
            &coat["units_reserved"],
            &coat["reservations"][1]["share"]["count"]
        ),
        (&1.into(), &3.into())
    );
    workshop
        .run("reserve G1 buttons --from L1.1:1")
        .refused(1, &["already fully promised or cut"]);
    workshop.all(&["cut G1 buttons --reservation R1"]);
    assert_eq!(need(&workshop, "G1")["units_cut"], 0);
    workshop.all(&["cut G1 buttons --reservation R2"]);
    assert_eq!(need(&workshop, "G1")["units_cut"], 1);
    assert_eq!(workshop.json("cost G1")["job"]["actual"], "14");
    // Neither cut is in the way of the other.
    workshop.all(&["undo B8 --yes", "undo B9 --yes"]);
    let coat = need(&workshop, "G1");
    assert_eq!(
        (&coat["units_cut"], &coat["units_reserved"]),
        (&0.into(), &1.into())
    );
    workshop.audit();
}

#[test]
fn a_set_is_promised_whole_or_not_at_all() {
    let workshop = cards();
    workshop.all(&[COAT]);
    let before = workshop.dump();
    let parts = [
        "match: 7 of one lot are promised together, and 3 of L1 are missing",
        "enough: L1 has 7 free",
    ];
    workshop
        .run("reserve G1 buttons --from L1.1:4")
        .refused(1, &parts);
    workshop
        .run("reserve G1 buttons --from L1.1:4 --from L1.2:2")
        .refused(1, &["and 1 of L1 are missing"]);
    workshop
        .run("reserve G1 buttons --from L1.1:4 --from L3.1:3")
        .refused(1, &["and 3 of L1 are missing"]);
    workshop
        .run("reserve G1 buttons --from L1.1:4 --from L1.2:4")
        .refused(1, &["4 of the buttons are more than the 3"]);
    workshop
        .run("reserve G1 buttons --from L1.1")
        .refused(1, &["L1.1 has 4", "enough: L1 has 7 free"]);
    workshop
        .run("reserve G1 buttons --from L1.1:4 --count 1")
        .refused(2, &["--count"]);
    workshop
        .run("reserve G1 buttons --from L1.1:0")
        .refused(2, &["takes nothing"]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&[
        "reserve G1 buttons --from L1.1:4 --from L1.2:3",
        "undo B7 --yes",
    ]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 0);
    workshop.all(&["reserve G1 --all --yes"]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 1);
    workshop.audit();
}

/// Five of one lot and four of another are no set of six.
#[test]
fn a_set_that_no_single_lot_can_fill_is_refused_with_what_each_has() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=horn button,kind=trim,size=24L,colour=brown,paid=5,price=5'",
        "buy --line 'material=horn button,kind=trim,size=24L,colour=brown,paid=4,price=4'",
        "garment plan coat --need 'role=buttons,kind=trim,count=6,size=24L,matching=yes'",
    ]);
    let parts = [
        "no single lot has enough",
        "L1 has 5 free, 1 missing; L2 has 4 free, 2 missing",
    ];
    workshop.run("reserve G1 --all --yes").refused(1, &parts);
    workshop
        .run("reserve G1 buttons --from L1.1:5 --from L2.1:1")
        .refused(1, &["missing", "not enough: L1 has 5 free"]);
    let report = workshop.run("candidates G1").done().out;
    insta::assert_snapshot!("no_lot_fills", report);
    // Nothing at all is another sentence.
    workshop
        .all(&["garment plan cape --need 'role=clasp,kind=trim,count=1,size=40L,matching=yes'"]);
    workshop.run("reserve G2 --all --yes").refused(
        1,
        &["2 have another size, such as L1.1 horn button: it is 24 L"],
    );
}

#[test]
fn in_a_batch_each_set_is_of_one_lot_and_several_lots_only_where_they_may_be_mixed() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=button,kind=trim,paid=9,price=9'",
        "buy --line 'material=button,kind=trim,paid=8,price=8'",
        "garment plan shirt --count 3 --need 'role=buttons,kind=trim,count=5,matching=yes'",
    ]);
    let parts = [
        "no single lot has enough",
        "L1 has 9 free, 6 missing; L2 has 8 free, 7 missing",
    ];
    workshop.run("reserve G1 --all --yes").refused(1, &parts);
    // Even mixed, nine and eight are one set of five each: the third would be of two lots.
    workshop
        .all(&["garment edit G1 --need 'role=buttons,kind=trim,count=5,matching=yes,mixing=yes'"]);
    let refused = workshop.run("reserve G1 --all --yes");
    assert!(
        !refused.err.contains("mixing=yes"),
        "it is said already: {}",
        refused.err
    );
    refused.refused(
        1,
        &[
            "no single lot has enough",
            "get more of it, or split the batch",
        ],
    );
    workshop.all(&[
        "buy --line 'material=button,kind=trim,paid=5,price=5'",
        "reserve G1 --all --yes",
    ]);
    let shirt = need(&workshop, "G1");
    assert_eq!(
        (
            &shirt["units_reserved"],
            shirt["reservations"].as_array().unwrap().len()
        ),
        (&3.into(), 3)
    );
    workshop.audit();
}

#[test]
fn a_set_that_lost_a_part_says_so_and_is_filled_from_its_own_lot_alone() {
    let workshop = cards();
    workshop.all(&[COAT, "reserve G1 --all --yes"]);
    let released = workshop.run("release R2").done();
    let words = "set incomplete: the buttons of G1 have 4 of 7, all of L1; promise 3 more of L1";
    assert!(
        released.err.contains(words) || released.out.contains(words),
        "{}{}",
        released.out,
        released.err
    );
    let shown = workshop.run("garment show G1").done();
    assert!(
        format!("{}{}", shown.out, shown.err).contains("set incomplete"),
        "{}",
        shown.out
    );
    assert_eq!(need(&workshop, "G1")["units_reserved"], 0);
    assert_eq!(
        picks(&workshop, "G1"),
        [("L1.2".to_owned(), Value::Null, 3.into())]
    );
    // Someone else takes the rest: the set cannot be filled, and says which promise to release.
    workshop.all(&[
        "garment plan vest --need 'role=buttons,kind=trim,count=3,lot=L1'",
        "reserve G2 buttons --from L1.2",
    ]);
    assert!(picks(&workshop, "G1").is_empty());
    workshop
        .run("reserve G1 --all --yes")
        .refused(1, &["set incomplete", "or release R1"]);
    workshop.all(&["release --garment G2"]);
    workshop
        .run("reserve G1 buttons --from L1.2")
        .refused(1, &["set incomplete", "complete the set"]);
    workshop.all(&["reserve G1 buttons --from L1.2:3"]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 1);
    // Undo of the release of all gives the whole set back.
    workshop.all(&["release --garment G1"]);
    assert!(
        !workshop
            .run("garment show G1")
            .done()
            .out
            .contains("incomplete")
    );
    let last = workshop.json("history --limit 1")["bookings"][0]["booking"]
        .as_str()
        .unwrap()
        .to_owned();
    workshop.all(&[&format!("undo {last} --yes")]);
    assert_eq!(need(&workshop, "G1")["units_reserved"], 1);
    workshop.audit();
}

/// Rule 6: what a recount of a card makes impossible is broken and listed, and the rest of its set is reported as incomplete.
#[test]
fn a_card_that_has_fewer_breaks_its_part_and_the_set_is_reported_as_incomplete() {
    let workshop = cards();
    workshop.all(&[COAT, "reserve G1 --all --yes"]);
    let measured = workshop.run("lot measure L1.2 2").done();
    let all = format!("{}{}", measured.out, measured.err);
    for words in [
        "Promises that no longer fit",
        "set incomplete: the buttons of G1 have 4 of 7",
    ] {
        assert!(all.contains(words), "no \"{words}\" in {all}");
    }
    let coat = need(&workshop, "G1");
    assert_eq!(
        (&coat["units_reserved"], &coat["reservations"][1]["state"]),
        (&0.into(), &"broken".into())
    );
    workshop.all(&["undo B8 --yes"]);
    assert_eq!(
        need(&workshop, "G1")["units_reserved"],
        1,
        "and the undo makes it whole again"
    );
    // A lot of another size serves no longer.
    let edited = workshop.run("lot edit L1 --size 28L").done();
    assert!(
        format!("{}{}", edited.out, edited.err).contains("it is 28 L = 17.78 mm"),
        "{}",
        edited.out
    );
    workshop.audit();
}

/// Two and four of six, where four are enough now: the cut of the four counts the unit, not the last promise.
#[test]
fn the_cut_that_fills_a_set_counts_it_whatever_else_is_promised() {
    let workshop = cards();
    workshop.all(&[
        "garment plan vest --need 'role=buttons,kind=trim,count=6,lot=L1'",
        "reserve G1 buttons --from L1.2:2 --from L1.1:4",
        "garment edit G1 --need 'role=buttons,kind=trim,count=4,lot=L1'",
        "cut G1 buttons --reservation R2",
    ]);
    let vest = need(&workshop, "G1");
    assert_eq!(
        (&vest["units_cut"], &vest["units_reserved"]),
        (&1.into(), &0.into())
    );
    workshop.all(&["release R1"]);
    assert_eq!(need(&workshop, "G1")["units_cut"], 1);
    let finished = workshop.run("garment finish G1 --yes").done();
    assert!(
        !format!("{}{}", finished.out, finished.err).contains("not all"),
        "{}",
        finished.out
    );
    workshop.audit();
}

#[test]
fn what_comes_near_is_reported_with_the_change_that_takes_it_and_is_never_promised() {
    let workshop = cards();
    workshop.all(&["cut G1 buttons 1 --from L1.1"].map(|_| COAT));
    workshop.all(&[
        "garment plan cardigan --need 'role=buttons,kind=trim,count=6,size=24L,colour=red'",
    ]);
    let near = workshop.json("candidates G2")["needs"][0]["near"].clone();
    let report: Vec<(&str, &str)> = near
        .as_array()
        .unwrap()
        .iter()
        .map(|lot| {
            (
                lot["lot"].as_str().unwrap(),
                lot["because"].as_str().unwrap(),
            )
        })
        .collect();
    // The same size first, those that leave least before others; the five shell buttons are too few.
    assert_eq!(
        report,
        [
            ("L2", "the same size, black"),
            ("L1", "the same size, brown"),
            ("L3", "26 L = 16.51 mm for 24 L = 15.24 mm, brown")
        ]
    );
    let shown = workshop.run("candidates G2 --need buttons").done();
    assert!(
        shown
            .err
            .contains("garment edit G2 --need role=buttons,colour=black"),
        "{}",
        shown.err
    );
    workshop
        .run("reserve G2 --all --yes")
        .refused(1, &["G2 needs 6 pcs"]);
    workshop.all(&[
        "garment edit G2 --need role=buttons,colour=black",
        "reserve G2 --all --yes",
    ]);
    assert_eq!(need(&workshop, "G2")["reservations"][0]["piece"], "L2.1");
}

#[test]
fn what_went_in_is_kept_for_a_repair_a_year_later() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --supplier 'Quay Haberdashery' --date 2025-10-06 --line 'material=horn button,kind=trim,size=24L,colour=brown,paid=7,price=14,dye-lot=H3'",
        "buy --supplier 'Quay Haberdashery' --date 2025-10-06 --line 'material=silk thread,kind=thread,colour=tan,paid=100m,price=3,dye-lot=T9'",
        "buy --line 'material=shell button,kind=trim,size=15mm,colour=Brown,paid=5,price=5.00'",
        "garment plan coat --need 'role=buttons,kind=trim,count=6,size=24L,colour=brown,matching=yes,spares=1' \
         --need 'role=thread,kind=thread,length=30m,colour=tan'",
        "reserve G1 --all --yes",
        "cut G1 buttons --date 2025-10-08",
        "cut G1 thread --date 2025-10-09",
        "garment finish G1 --date 2025-10-11",
        "garment deliver G1 --date 2025-10-12",
    ]);
    // Today is a year later.
    let later = &workshop;
    let shown = later.run("garment show G1").done();
    insta::assert_snapshot!("a_year_later", format!("{}{}", shown.out, shown.err));
    let coat = later.json("garment show G1");
    let used = |need: usize| coat["needs"][need]["used"][0].clone();
    assert_eq!(
        (&used(0)["lot"], &used(0)["left"]["count"]),
        (&"L1".into(), &0.into())
    );
    assert_eq!(
        (&used(1)["dye_lot"], &used(1)["supplier"]),
        (&"T9".into(), &"Quay Haberdashery".into())
    );
    assert_eq!(used(1)["left"]["length_m"], "70");
    // The repair: of the thread there is some left, of the buttons nothing.
    later.all(&[
        "garment plan repair --need 'role=buttons,kind=trim,count=1,same-lot-as=G1' \
         --need 'role=thread,kind=thread,length=2m,same-lot-as=G1'",
        "reserve G2 thread --from L2.1",
    ]);
    let found = later.json("candidates G2 --need buttons")["needs"][0].clone();
    let note = "L1, the lot of G1 for its buttons, is used up: nothing is left of it";
    assert_eq!(found["notes"][0], note);
    // The nearest in its place: the shell buttons of the same size and colour.
    assert_eq!(found["near"][0]["lot"], "L3");
    later
        .run("reserve G2 buttons --from L3.1")
        .refused(1, &["it must come from the lot of G1: L1"]);
    later.run("reserve G2 --all --yes").refused(1, &[note]);
    // Taking it all back puts the buttons on their card again.
    later.all(&[
        "release --garment G2",
        "undo B9 --yes",
        "undo B8 --yes",
        "undo B6 --yes",
    ]);
    let left = later.json("garment show G1")["needs"][0]["used"][0]["left"]["count"].clone();
    assert_eq!(left, Value::Null, "nothing is cut for it any more");
    // They are on their card again, promised to the coat.
    let found = later.json("candidates G2 --need buttons")["needs"][0].clone();
    assert_eq!(
        (&found["notes"], &found["picks"]),
        (&Value::Array(Vec::new()), &Value::Array(Vec::new()))
    );
    assert_eq!(
        later.json("lot show L1")["pieces"][0]["on_hand"]["count"],
        7
    );
    later.audit();
}

#[test]
fn measured_trims_are_no_sets_and_bad_needs_are_refused() {
    let workshop = Workshop::new();
    workshop
        .all(&["buy --line 'material=elastic,kind=trim,unit=length,size=25mm,paid=5m,price=5'"]);
    let plan = |need: &str| {
        workshop.run(&format!(
            "garment plan skirt --need 'role=waist,kind={need}'"
        ))
    };
    plan("trim,length=70cm,matching=yes").refused(1, &["matching is for trims that are counted"]);
    plan("trim,length=70cm,spares=1").refused(1, &["spares is for trims that are counted"]);
    plan("trim,count=2,length=70cm").refused(1, &["counted or measured, not both"]);
    plan("trim,count=2,material=elastic").refused(1, &["elastic is measured; give a length"]);
    plan("trim,count=2,spares=0").refused(1, &["no spares are none"]);
    plan("trim,count=2,size=24").refused(2, &["needs a unit"]);
    plan("cloth,length=1m,size=24L").refused(1, &["size is for trims"]);
    plan("cloth,length=1m,colour=tan").refused(1, &["colour is for thread and trims"]);
    workshop
        .run("buy --line 'material=elastic,kind=trim,unit=count,paid=5,price=5'")
        .refused(1, &["is measured"]);
    // Elastic is cut shorter than its seam by the user's own figure: nothing is added.
    workshop.all(&[
        "garment plan skirt --need 'role=waist,kind=trim,length=62cm,size=25mm'",
        "reserve G1 --all --yes",
    ]);
    assert_eq!(
        need(&workshop, "G1")["reservations"][0]["held"]["length_m"],
        "0.62"
    );
    workshop
        .run("reserve G1 waist --from L1.1:4")
        .refused(1, &["is not counted, so it has no sets"]);
}

#[test]
fn the_subject_of_trims_is_explained() {
    let workshop = Workshop::new();
    let report = workshop.run("help trims").done().out;
    insta::assert_snapshot!("help", report);
    assert!(workshop.run("help").done().out.contains("trims"));
    workshop.run("help buttons").refused(
        2,
        &["\"buttons\" is neither a topic nor a command", "trims"],
    );
}
