//! Needs that run from several reels at once.

use crate::stories::reels::with_reels;

/// Derived: 200 m over four reels are 50 m of each, 100 m of each for two garments.
#[test]
fn four_reels_at_once_share_the_length_and_come_from_one_lot() {
    let workshop = with_reels("reels=4", 2);
    let need = workshop.json("garment show G1")["needs"][0].clone();
    assert_eq!(
        (&need["units"], &need["length_m"], &need["amount"]),
        (&4.into(), &"200".into(), &"200.00 m".into())
    );
    assert_eq!(
        need["conditions"][0],
        "4 reels at once, 100.00 m of each in all"
    );
    let found = workshop.json("candidates G1")["needs"][0].clone();
    assert_eq!(
        (
            found["serve"].as_array().unwrap().len(),
            &found["serve"][0]["units"]
        ),
        (8, &1.into())
    );
    assert_eq!(
        found["serve"][0]["steps"][0],
        "200.00 m × 2 ÷ 4 reels at once = 100.00 m of each"
    );
    let picks: Vec<&str> = found["picks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|pick| pick["piece"].as_str().unwrap())
        .collect();
    assert_eq!(
        picks,
        ["L2.1", "L2.2", "L2.3", "L2.4"],
        "L1 has three reels only"
    );
    workshop.all(&["reserve G1 --all --yes"]);
    let held = workshop.json("garment show G1")["needs"][0].clone();
    assert_eq!(
        (
            &held["units_reserved"],
            &held["reservations"][3]["held"]["length_m"]
        ),
        (&4.into(), &"100".into())
    );
    // Cut one by one; what is left of a need is what its reels have not given.
    workshop.all(&[
        "cut G1 'overlock thread' --reservation R1",
        "cut G1 'overlock thread' --reservation R2",
    ]);
    assert_eq!(workshop.json("garment show G1")["needs"][0]["units_cut"], 2);
    workshop.all(&["undo --yes", "garment copy G1 --count 3"]);
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["units_reserved"],
        3,
        "R1 is cut"
    );
    let copied = workshop.json("garment show G2")["needs"][0].clone();
    assert_eq!(
        (&copied["units"], &copied["conditions"][0]),
        (
            &4.into(),
            &"4 reels at once, 150.00 m of each in all".into()
        )
    );
    workshop.audit();
}

#[test]
fn one_reel_does_not_stand_for_two() {
    let workshop = with_reels("reels=4", 1);
    workshop.all(&["reserve G1 'overlock thread' --from L2.1"]);
    workshop
        .run("reserve G1 'overlock thread' --from L2.1")
        .refused(
            1,
            &[
                "L2.1 cannot serve the overlock thread twice",
                "R1",
                "hint: choose another reel",
            ],
        );
    workshop
        .run("reserve G1 'overlock thread' --from L2.2 --count 2")
        .refused(1, &["one reel and cannot stand for 2 of the 4"]);
    workshop
        .run("reserve G1 'overlock thread' --from L1.1")
        .refused(1, &["not of L2, the lot already taken"]);
    let cannot = workshop.json("candidates G1")["needs"][0]["cannot"].clone();
    assert!(
        cannot[3]["reason"]
            .as_str()
            .unwrap()
            .contains("already promised to the overlock thread (R1)"),
        "{cannot}"
    );
    // The rest of the four, from the same lot.
    workshop.all(&[
        "reserve G1 --all --yes",
        "cut G1 'overlock thread' --reservation R1",
    ]);
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["units_reserved"],
        3
    );
    // A reel that gave its share is none of those that are still wanted; more thread from it serves no other unit.
    workshop.all(&["release R2"]);
    workshop
        .run("reserve G1 'overlock thread' --from L2.1")
        .refused(1, &["already gave its share to the overlock thread"]);
    workshop.all(&["cut G1 'overlock thread' 5m --from L2.1"]);
    assert_eq!(workshop.json("garment show G1")["needs"][0]["units_cut"], 1);
    workshop.audit();
}

/// Two reels at once: one that was released and promised again does not come back to hold both.
#[test]
fn a_release_taken_back_does_not_put_two_units_on_one_reel() {
    let workshop = with_reels("reels=2", 1);
    workshop.all(&[
        "reserve G1 'overlock thread' --from L2.1",
        "release R1",
        "reserve G1 'overlock thread' --from L2.1",
    ]);
    workshop.run("undo B5 --yes").refused(
        1,
        &[
            "R1 is no longer needed",
            "already promised to the overlock thread",
        ],
    );
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["units_reserved"],
        1
    );
    workshop.all(&["release R2", "undo B5 --yes"]);
    // A release whose unit another reel has taken since.
    workshop.all(&[
        "reserve G1 --all --yes",
        "release --garment G1",
        "reserve G1 --all --yes",
    ]);
    workshop
        .run("undo B10 --yes")
        .refused(1, &["already fully promised or cut"]);
    workshop.audit();
}

/// Reels that run at once are a piece each: no cut serves two of them.
#[test]
fn a_cut_is_of_one_reel() {
    let workshop = with_reels("reels=2,mixing=yes", 1);
    let before = workshop.dump();
    workshop
        .run("cut G1 'overlock thread' 100m --from L1.1 --count 2")
        .refused(1, &["2 reels of the overlock thread are 2 pieces"]);
    assert_eq!(workshop.dump(), before);
}

#[test]
fn several_reels_are_named_at_once() {
    let workshop = with_reels("reels=4", 1);
    workshop.all(&["reserve G1 'overlock thread' --from L2.1 --from L2.2 --from L2.3"]);
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["units_reserved"],
        3
    );
    let before = workshop.dump();
    workshop
        .run("reserve G1 'overlock thread' --from L2.4 --from L2.4")
        .refused(1, &["cannot serve"]);
    assert_eq!(workshop.dump(), before, "all of them or none");
    workshop.run("cut G1 'overlock thread'").refused(
        1,
        &[
            "several promises: R1, R2, R3",
            "choose the one to cut from: --reservation R1",
        ],
    );
    // Other kinds say how much comes from each.
    workshop.all(&[
        "garment plan apron --count 2 --need 'role=shell,kind=cloth,length=1m,preparation=none' \
         --need 'role=t,kind=thread,length=10m' --need 'role=buttons,kind=trim,count=2'",
    ]);
    for (need, says) in [
        ("shell", "--washed-length"),
        ("t", "reels=2"),
        ("buttons", "--from L1.1:4"),
    ] {
        workshop
            .run(&format!("reserve G2 {need} --from L1.1 --from L1.2"))
            .refused(1, &["but not how much comes from each", says]);
    }
    workshop.audit();
}

#[test]
fn the_first_reel_comes_from_a_lot_that_has_enough() {
    let workshop = with_reels("reels=4", 1);
    let before = workshop.dump();
    // Four reels of 50 m: L1 has three.
    workshop.run("reserve G1 'overlock thread' --from L1.1").refused(
        1,
        &[
            "takes 4 reels of one lot, and L1 has too few with 50.00 m free each: L2 has 5, L1 has 3",
            "hint: choose a reel of a lot that has enough",
        ],
    );
    assert_eq!(workshop.dump(), before);
    workshop.all(&[
        "reserve G1 'overlock thread' --from L2.1",
        // Two of the others go elsewhere: two are left, and three are wanted.
        "garment plan vest --need 'role=t,kind=thread,length=200m,reels=2'",
        "reserve G2 t --from L2.2",
        "reserve G2 t --from L2.3",
    ]);
    let report = workshop.json("candidates G1")["needs"][0]["notes"][0].clone();
    assert_eq!(
        report,
        "the overlock thread already has reels of lot L2, and L2 has 2 of the 3 more with 50.00 m free each: release R1 \
         first, or allow mixing"
    );
    workshop.all(&[
        "garment plan cap --need 'role=t,kind=thread,length=200m,reels=2'",
        "reserve G3 t --from L2.4",
        "reserve G3 t --from L2.5",
    ]);
    let report = workshop.json("candidates G1")["needs"][0]["notes"][0].clone();
    assert!(
        report
            .as_str()
            .unwrap()
            .contains("L2 has no other with 50.00 m free: release R1 first"),
        "{report}"
    );
    // Where lots may be mixed, the lot of three serves.
    workshop.all(&[
        "garment edit G1 --need 'role=overlock thread,kind=thread,length=200m,reels=4,mixing=yes'",
        "reserve G1 'overlock thread' --from L1.1",
    ]);
    workshop.audit();
}
