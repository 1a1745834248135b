//! Cuts that are taken back, and what is cut into meanwhile.

use crate::Workshop;
use crate::stories::undo::{promises, stocked};

#[test]
fn a_cut_that_is_taken_back_leaves_the_plan_as_it_was() {
    let workshop = stocked();
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let planned = workshop.json("cost G1")["job"]["planned"].clone();
    for _ in 0..2 {
        workshop.all(&["cut G1 shell", "undo --yes"]);
        assert_eq!(workshop.json("cost G1")["job"]["planned"], planned);
    }
    // And the promise itself goes with its booking, whatever code it has by now.
    workshop.all(&["undo B4 --yes"]);
    assert_eq!(promises(&workshop), Vec::<serde_json::Value>::new());
    workshop.audit();
}

#[test]
fn cuts_of_a_batch_are_taken_back_in_any_order() {
    for order in [["B4", "B5"], ["B5", "B4"]] {
        let workshop = stocked();
        workshop.all(&[
            "garment plan bags --count 2 --need 'role=base,kind=cloth,length=95cm,width=140cm,preparation=none'",
            "reserve G2 base --from L1.1",
            "cut G2 base 1m",
            "cut G2 base 1m",
        ]);
        let bookings = workshop.json("history")["bookings"].clone();
        let code = |name: &str| {
            let back = if name == "B5" { 0 } else { 1 };
            bookings[back]["booking"].as_str().unwrap().to_owned()
        };
        for name in order {
            workshop.all(&[&format!("undo {} --yes", code(name))]);
            workshop.audit();
        }
        let shown = workshop.json("garment show G2")["needs"][0]["reservations"].clone();
        let active: Vec<_> = shown
            .as_array()
            .unwrap()
            .iter()
            .filter(|promise| promise["state"] == "active")
            .collect();
        assert_eq!(active.len(), 1, "{shown}");
        assert_eq!(
            (&active[0]["units"], &active[0]["held"]["length_m"]),
            (&2.into(), &"2".into())
        );
        assert_eq!(workshop.json("cost G2")["job"]["planned"], "20");
    }
}

#[test]
fn trims_of_a_cancelled_garment_are_taken_back_until_they_are_used() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=horn button,kind=trim,paid=7,price=10'",
        "garment plan vest --need 'role=button,kind=trim,count=3'",
        "garment plan coat --need 'role=button,kind=trim,count=3'",
        "cut G1 button 3 --from L1.1",
    ]);
    let before = (workshop.json("shelf"), workshop.json("cost G1"));
    workshop.all(&[
        "garment cancel G1 --cut-material shelf --return B4=3",
        "undo --yes",
    ]);
    assert_eq!((workshop.json("shelf"), workshop.json("cost G1")), before);
    workshop.audit();
    workshop.all(&[
        "garment cancel G1 --cut-material shelf --return B4=3",
        "cut G2 button 6 --from L1.1",
    ]);
    workshop
        .run("undo B7 --yes")
        .refused(1, &["used since, by B8", "hint: "]);
    workshop.audit();
}

/// What came off a piece is laid back at its end, its flaws with it, whatever was cut off the piece since (derived).
#[test]
fn later_acts_on_the_rest_of_a_piece_block_nothing() {
    let flaws = |workshop: &Workshop| {
        let flaws = workshop.json("lot show L1")["pieces"][0]["flaws"].clone();
        let flaws = flaws.as_array().unwrap();
        let at = |flaw: &serde_json::Value| flaw["at_m"].as_str().unwrap().to_owned();
        flaws.iter().map(at).collect::<Vec<_>>()
    };
    // Flaws at 0.50 m and 3.90 m of 4 m; what lies where after each is taken back.
    for (first, later, length, at) in [
        (
            "cut G1 shell 50cm --from L1.1 --at 1m",
            "cut G1 shell 50cm --from L1.1",
            "3.5",
            vec!["0.5", "3.4"],
        ),
        (
            "lot split L1.1 1m",
            "cut G1 shell 50cm --from L1.1",
            "3.5",
            vec!["0.5", "3.4"],
        ),
        (
            "wash test L1 --preparation washed --length 350mm=334mm --swatch 20cmx50cm --from L1.1",
            "cut G1 shell 20cm --from L1.1",
            "3.8",
            vec!["0.3", "3.7"],
        ),
    ] {
        let workshop = stocked();
        workshop.all(&["lot flaw L1.1 --at 50cm", "lot flaw L1.1 --at 3.90m"]);
        workshop.all(&[first, later, "undo B6 --yes"]);
        workshop.audit();
        let piece = workshop.json("lot show L1")["pieces"][0].clone();
        assert_eq!(piece["on_hand"]["length_m"], length, "{first}, {later}");
        assert_eq!(flaws(&workshop), at, "{first}, {later}");
        workshop.all(&["undo B7 --yes"]);
        workshop.audit();
        let piece = workshop.json("lot show L1")["pieces"][0].clone();
        assert_eq!(piece["on_hand"]["length_m"], "4", "{first}, {later}");
    }
}

/// A cut out of the middle moves its promise to the outer part; taken back, the promise is whole again.
#[test]
fn a_cut_out_of_the_middle_of_a_promise_is_taken_back() {
    let workshop = stocked();
    workshop.all(&[
        "lot measure L1.1 1.70m --really",
        "reserve G1 shell --from L1.1",
    ]);
    let before = promises(&workshop);
    workshop.all(&["cut G1 shell 1m --at 20cm"]);
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(promises(&workshop)[0]["held"], before[0]["held"]);
    assert_eq!(promises(&workshop)[0]["units"], before[0]["units"]);
    workshop.audit();
}

#[test]
fn a_garment_that_takes_material_over_is_cut_into_as_long_as_it_has_it() {
    let workshop = stocked();
    workshop.all(&[
        "garment plan other --need 'role=shell,kind=cloth,length=50cm,width=140cm,preparation=none'",
        "cut G1 shell 1m --from L1.1",
        "garment cancel G1 --cut-material garment=G2",
        "cut G2 shell 50cm --from L1.1",
    ]);
    for state in ["cut-into", "planned"] {
        workshop.all(&["undo --yes"]);
        assert_eq!(workshop.json("garment show G2")["state"], state);
        workshop.audit();
    }
}

#[test]
fn two_cuts_of_one_promise_are_taken_back_to_the_whole_promise() {
    let workshop = stocked();
    workshop.all(&[
        "reserve G1 shell --from L1.1",
        "cut G1 shell 1m",
        "cut G1 shell 0.2m --last",
        "undo --yes",
        "undo --yes",
    ]);
    let piece = workshop.json("lot show L1")["pieces"][0].clone();
    assert_eq!(piece["on_hand"]["length_m"], "4");
    assert_eq!(
        piece["reserved"]["length_m"], "1.55",
        "the promise holds what it held"
    );
    workshop.audit();
}

#[test]
fn a_later_cut_of_the_piece_does_not_block_but_a_wash_does() {
    let workshop = stocked();
    workshop.all(&[
        "cut G1 shell 1m --from L1.1",
        "cut G1 shell 0.5m --from L1.1",
        "undo B4 --yes",
    ]);
    assert_eq!(
        workshop.json("lot show L1")["pieces"][0]["on_hand"]["length_m"],
        "3.5"
    );
    workshop.all(&["wash done L1.1 --preparation washed --length 3.3m --width 147cm"]);
    let before = workshop.dump();
    workshop.run("undo B5 --yes").refused(1, &["L1.1", "since"]);
    workshop
        .run("undo B4 --yes")
        .refused(1, &["already taken back"]);
    workshop.run("undo B2 --yes").refused(1, &["L1.1"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}
