//! A lot alone stands for its only piece.

use crate::lines::Workshop;

/// Linen of one piece, 4.00 m, and a garment of 1.00 m.
fn workshop() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan dress --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
    ]);
    workshop
}

#[test]
fn each_act_on_a_piece_takes_the_lot_of_an_only_piece() {
    let workshop = workshop();
    for line in [
        "lot place L1 A2",
        "lot flaw L1 --at 3.90m",
        "lot flaw-remove L1 1",
        "lot measure L1 3.98m",
        "reserve G1 shell --from L1",
        "release R1",
        "cut G1 shell 1m --from l1",
    ] {
        workshop.all(&[line]);
    }
    assert_eq!(
        workshop.json("lot show L1")["pieces"][0]["on_hand"]["length_m"],
        "2.98"
    );
    let history = workshop.json("history --all").to_string();
    assert!(history.contains("Put L1.1 linen in A2."), "{history}");
    workshop.audit();
}

#[test]
fn several_pieces_are_listed_with_what_is_left_of_each() {
    let workshop = workshop();
    workshop.all(&["lot split L1 1.50m"]);
    let before = workshop.dump();
    for line in [
        "lot measure L1 2m",
        "cut G1 shell 1m --from L1",
        "reserve G1 shell --from L1",
    ] {
        workshop.run(line).refused(
            1,
            &[
                "L1 has several pieces: L1.1 (2.50 m), L1.2 (1.50 m)",
                "for example L1.1",
            ],
        );
    }
    assert_eq!(workshop.dump(), before);
    // What is used up is not meant.
    workshop.all(&[
        "cut G1 shell 1.50m --from L1.2 --really",
        "lot measure L1 2.48m",
    ]);
    workshop
        .run("lot measure L9 1m")
        .refused(1, &["L9", "ellwand shelf"]);
    workshop.audit();
}
