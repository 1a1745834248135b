//! The order in which bookings are taken back.

use crate::Workshop;
use crate::stories::undo::stocked;

#[test]
fn nobody_works_on_a_finished_garment() {
    let workshop = stocked();
    workshop.all(&["work G1 sewing 1h", "garment finish G1 --really"]);
    workshop
        .run("work G1 sewing 5h")
        .refused(1, &["G1 is finished", "hint: its cost is final"]);
    workshop.all(&["undo --yes", "work G1 sewing 5h"]);
}

/// In any other order: refused, naming the later booking, and possible once that is taken back.
#[test]
fn what_later_bookings_rest_on_is_refused_first() {
    let cases: Vec<(Vec<&str>, usize)> = vec![
        // A charge of which a cut took its share.
        (
            vec!["buy charge P1 other=6", "cut G1 shell 2m --from L1.1"],
            0,
        ),
        (
            vec!["buy charge P1 other=6", "cut G1 shell 4m --from L1.1"],
            0,
        ),
        // What came off by a split, or lay before a cut, was used.
        (
            vec!["lot split L1.1 1m", "cut G1 shell 50cm --from L1.2"],
            0,
        ),
        (
            vec![
                "cut G1 shell 50cm --from L1.1 --at 1m",
                "cut G1 shell 50cm --from L1.2",
            ],
            0,
        ),
        // A length that was said since.
        (
            vec![
                "cut G1 shell 50cm --from L1.1",
                "cut G1 shell 50cm --from L1.1 --piece-was 3.40m",
            ],
            0,
        ),
        // A need that is not in the plan any more; a plan that was changed.
        (
            vec![
                "reserve G1 shell --from L1.1",
                "release --garment G1",
                "garment edit G1 --drop-need shell",
            ],
            1,
        ),
    ];
    for (acts, first) in cases {
        let workshop = stocked();
        let mut bookings = Vec::new();
        for act in &acts {
            workshop.all(&[act]);
            let last = workshop.json("history")["bookings"][0]["booking"]
                .as_str()
                .unwrap()
                .to_owned();
            bookings.push(last);
        }
        let before = workshop.dump();
        workshop
            .run(&format!("undo {} --yes", bookings[first]))
            .refused(1, &["hint: take ", "ellwand undo B"]);
        assert_eq!(workshop.dump(), before, "{acts:?}");
        for booking in bookings.iter().rev() {
            workshop.all(&[&format!("undo {booking} --yes")]);
            workshop.audit();
        }
        assert_eq!(
            workshop.json("shelf")["pieces"][0]["value"],
            "40",
            "{acts:?}"
        );
        assert_eq!(workshop.json("cost G1")["all"]["actual"], "0", "{acts:?}");
    }
    let workshop = stocked();
    workshop.all(&["garment edit G1 --due 2026-12-24"]);
    workshop.run("undo B3 --yes").refused(1, &["B4", "hint: "]);
    // An edit that changed nothing of the sheet is in nobody's way.
    workshop.all(&[
        "lot edit L1 --colour blue",
        "lot edit L1 --place A9",
        "undo B5 --yes",
        "undo B6 --yes",
    ]);
    workshop.audit();
}

/// What was taken back since does not stand in the way: one undo after another leads back to the first day.
#[test]
fn a_whole_day_is_taken_back_one_booking_at_a_time() {
    let workshop = stocked();
    let (shelf, lot) = (
        workshop.json("shelf"),
        workshop.json("lot show L1")["value_went"].clone(),
    );
    let day = [
        "lot flaw L1.1 --at 3m --note slub",
        "wash done L1.1 --preparation washed --length 3.80m",
        "cut G1 shell 50cm --from L1.1 --at 20cm",
        "lot split L1.1 30cm",
        "cut G1 shell 20cm --from L1.1",
        "lot measure L1.1 2.70m",
        "buy charge P1 'freight=5,by=value'",
        "cut G1 shell 20cm --from L1.1 --end inner",
        "lot flaw L1.1 --at 1m",
    ];
    workshop.all(&day);
    workshop.audit();
    for _ in day {
        workshop.all(&["undo --yes"]);
        workshop.audit();
    }
    assert_eq!(workshop.json("shelf"), shelf);
    assert_eq!(workshop.json("lot show L1")["value_went"], lot);
}

#[test]
fn an_untouched_purchase_can_be_taken_back() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "undo --yes",
    ]);
    assert!(
        workshop.json("shelf")["pieces"]
            .as_array()
            .unwrap()
            .is_empty()
    );
    assert_eq!(workshop.json("buy show P1")["home_total"], "0");
    workshop.audit();
}
