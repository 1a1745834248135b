//! Cuts of a need that is planned by its parts.

use crate::Workshop;
use serde_json::json;

/// By hand: back and fronts lie beside one another, 52 + 30 + 30 = 112 cm wide and 64 cm long; with 4 cm of end allowance 0.68 m, up
/// to 0.70 m. Of 3 m of 150 cm 2.30 m are left, and beside them a strip of 38 cm, which is no length of the cloth.
fn vest() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=tweed,kind=cloth,full-width=150cm,paid=3m,price=90'",
        "garment plan vest --need 'role=shell,kind=cloth,preparation=none' \
             --part 'need=shell,name=back,length=64cm,width=52cm,grain=lengthwise' \
             --part 'need=shell,name=front,count=2,length=62cm,width=30cm,grain=lengthwise'",
        "reserve G1 shell --from L1.1",
    ]);
    workshop
}

#[test]
fn a_strip_is_no_length_of_what_is_left() {
    let workshop = vest();
    workshop.all(&["cut G1 shell"]);
    let used = workshop.json("garment show G1")["needs"][0]["used"][0].clone();
    assert_eq!(
        (&used["taken"], &used["left"], &used["strips"]),
        (
            &json!({"length_m": "0.7"}),
            &json!({"length_m": "2.3"}),
            &json!(1)
        ),
        "{used}"
    );
    workshop.audit();
}

/// 0.50 m hold neither the back nor a front; the whole promise does.
#[test]
fn a_cut_that_holds_no_part_is_said() {
    let workshop = vest();
    let note = "0.50 m does not hold the longest part of the shell, 0.64 m";
    let cut = workshop.json("cut G1 shell 50cm");
    assert!(cut["notes"].to_string().contains(note), "{cut}");
    workshop.all(&["undo"]);
    let cut = workshop.json("cut G1 shell");
    assert!(!cut["notes"].to_string().contains("longest part"), "{cut}");
    workshop.audit();
}
