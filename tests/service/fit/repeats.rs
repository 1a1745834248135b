//! Cloth with a repeat: lengths that must match are whole repeats.

use crate::Workshop;

fn checked(need: &str) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=check,kind=cloth,paid=10m,price=100,full-width=150cm,shrinkage=4%/2%,repeat=27in'",
        &format!("garment plan coat --need 'role=shell,kind=cloth,length=96in,width=140cm,{need}'"),
    ]);
    workshop
}

/// Common practice: 96 in at a repeat of 27 in are four repeats, 108 in = 2.7432 m; with 4 cm of end allowance 2.4784 m
/// are four as well. A step of 5 cm is not put on top.
#[test]
fn a_length_that_must_match_is_rounded_up_to_whole_repeats() {
    let workshop = checked("preparation=none,match=yes");
    let found = workshop.json("candidates G1")["needs"][0]["serve"][0].clone();
    let promise = workshop.json("reserve G1 shell --from L1.1");
    let reserved = &promise["reservations"][0];
    assert_eq!(reserved["held"]["length_m"], "2.7432");
    let steps = reserved["steps"].to_string();
    assert!(
        steps.contains("2.479 m rounded up to 4 whole repeats of 68.58 cm = 2.744 m"),
        "{steps}"
    );
    assert!(!steps.contains("cutting step"), "{steps}");
    for notes in [&found["notes"], &promise["notes"]] {
        let report =
            "up to one repeat more, 68.58 cm, goes where the roll was cut, once off the piece";
        assert!(notes.to_string().contains(report), "{notes}");
    }
    let garment = workshop.json("garment show G1");
    assert!(
        garment["needs"][0]["conditions"]
            .to_string()
            .contains("whole repeats"),
        "{garment}"
    );
    workshop.audit();
}

/// Without the word a repeat is not counted, and that is reported: 2.4784 m at a step of 5 cm.
#[test]
fn a_repeat_that_is_not_counted_is_reported() {
    let workshop = checked("preparation=none");
    let promise = workshop.json("reserve G1 shell --from L1.1");
    assert_eq!(promise["reservations"][0]["held"]["length_m"], "2.5");
    for answer in [
        promise["notes"].to_string(),
        workshop.json("candidates G1").to_string(),
    ] {
        let report = "its repeat of 68.58 cm is not counted: if the pattern must match, set match=yes in the need";
        assert!(
            answer.contains(report) || answer.contains("\"serve\":[]"),
            "{answer}"
        );
    }
    workshop.all(&["release --garment G1"]);
    assert!(
        workshop
            .json("candidates G1")
            .to_string()
            .contains("is not counted")
    );
    workshop.audit();
}

/// 2.4784 m ÷ 0.96 = 2.5817 m, four repeats of 68.58 cm; washed as predicted they are four of 65.8368 cm, 2.633472 m.
#[test]
fn a_predicted_wash_keeps_whole_repeats_whole() {
    let workshop = checked("preparation=washed,match=yes");
    workshop.all(&["lot split L1.1 2.7432m", "reserve G1 shell --from L1.2"]);
    let washed = workshop.json("wash done L1.2 --preparation washed --length 2.633472m");
    assert!(washed["broken"].as_array().unwrap().is_empty(), "{washed}");
    assert_eq!(
        workshop.json("garment show G1")["needs"][0]["reservations"][0]["held"]["length_m"],
        "2.633472"
    );
    workshop.audit();
}

#[test]
fn a_lot_without_a_repeat_is_reported_and_trims_do_not_match_so() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=plain,kind=cloth,paid=10m,price=100,full-width=150cm'",
        "garment plan coat --need 'role=shell,kind=cloth,length=96in,preparation=none,match=yes'",
    ]);
    let promise = workshop.json("reserve G1 shell --from L1.1");
    assert_eq!(promise["reservations"][0]["held"]["length_m"], "2.5");
    assert!(
        promise["notes"]
            .to_string()
            .contains("enter it with ellwand lot edit L1 --repeat"),
        "{promise}"
    );
    workshop
        .run("garment plan shirt --need 'role=buttons,kind=trim,count=6,match=yes'")
        .refused(1, &["match is for cloth and interlining"]);
}

/// By hand: a roll washed from 4.92 m to 4.40 m has a repeat of 27 cm × 4.40 ÷ 4.92 = 24.1463 cm; 0.94 m and 4 cm take five of them.
#[test]
fn a_washed_roll_has_the_repeat_that_its_wash_left() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=print,kind=cloth,fibres=cotton,paid=4.92m,price=40,full-width=150cm,repeat=27cm'",
        "wash done L1.1 --length 4.40m --width 147cm",
        "garment plan coat --need 'role=shell,kind=cloth,length=94cm,width=140cm,preparation=washed,match=yes'",
    ]);
    let held = workshop.json("reserve G1 shell --from L1.1")["reservations"][0]["held"]["length_m"]
        .clone();
    assert_eq!(held, "1.207317");
    workshop.audit();
}
