//! `ellwand cut`: what is short, what is kept, and what a cut breaks.

use crate::Workshop;

/// By hand: (1.00 + 0.04) ÷ 0.96 = 1.083334 m, and 1.083333 m are there.
#[test]
fn a_shortage_of_a_micrometre_is_seen() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=1.083333m,price=40,full-width=150cm,shrinkage=4%/0%'",
        "garment plan top --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=washed'",
        "garment plan wide --need 'role=shell,kind=cloth,length=50cm,width=150.0001cm,preparation=none'",
    ]);
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["1.083333 m", "needs 1.083334 m"]);
    let cannot = workshop.json("candidates G1")["needs"][0]["cannot"][0]["reason"].clone();
    assert_eq!(cannot, "1.083333 m free, 1.083334 m needed");
    let narrow = workshop.json("candidates G2")["needs"][0]["cannot"][0]["reason"].clone();
    let report = narrow.as_str().unwrap();
    assert!(
        report.starts_with("150 cm usable, the need asks for 150.0001 cm"),
        "{report}"
    );
    workshop
        .run("cut G1 shell 1.083334m --from L1.1 --really")
        .refused(1, &["1.083333 m", "needs 1.083334 m"]);
    workshop.all(&["workshop set --units imperial"]);
    // 1.083333 m and 1.083334 m ÷ 0.9144 m.
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["1.184747 yd", "needs 1.184748 yd"]);
    workshop.audit();
}

/// A cut that its own promise covers needs nothing more; what is missing is one length for the other promise.
#[test]
fn a_cut_that_leaves_no_room_for_another_promise_says_so() {
    let workshop = Workshop::new();
    let need = "--need 'role=shell,kind=cloth,length=1.96m,width=140cm,preparation=none'";
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        &format!("garment plan one {need}"),
        &format!("garment plan other {need}"),
        "reserve G1 shell --from L1.1",
        "reserve G2 shell --from L1.1",
    ]);
    let before = workshop.dump();
    let refused = workshop.run("cut G1 shell 2m --at 1m");
    assert!(!refused.err.contains("0.00 m"), "{}", refused.err);
    refused.refused(
        1,
        &[
            "the shell of G1 cannot be cut there",
            "R2 holds 2.00 m for the shell of G2",
            "hint: ",
        ],
    );
    assert_eq!(workshop.dump(), before);
    workshop.all(&["cut G1 shell 2m"]);
    workshop.audit();
}

/// Derived: 20 cm before a cut and 15 cm beside a panel are too short to be kept unless a flag asks for it; 35 cm before one and
/// 110 cm beside one are kept.
#[test]
fn what_is_kept_of_a_cut_is_chosen_by_its_flags() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=9m,price=90'",
        "garment plan top --count 6 --need 'role=shell,kind=cloth,length=50cm,width=40cm,preparation=none'",
    ]);
    for (flags, made) in [
        ("--at 20cm", 0),
        ("--at 20cm --keep-rest", 1),
        ("--at 35cm", 1),
        ("--at 35cm --no-keep-rest", 0),
        ("--panel 135cm", 0),
        ("--panel 135cm --keep-strip", 1),
        ("--panel 40cm", 1),
        ("--panel 40cm --no-keep-strip", 0),
    ] {
        let cut = workshop.json(&format!("cut G1 shell 50cm --from L1.1 {flags}"));
        assert_eq!(
            cut["made"].as_array().unwrap().len(),
            made,
            "{flags}: {cut}"
        );
        workshop.all(&["undo --yes"]);
    }
    let cut = workshop.json("cut G1 shell 50cm --from L1.1 --no-keep-rest");
    assert_eq!(cut["piece"]["on_hand"]["length_m"], "0", "{cut}");
    workshop.audit();
}

/// Derived: of 2 m one garment holds all, and another is cut from it only where that is said.
#[test]
fn a_cut_into_another_promise_says_whose_it_was() {
    let workshop = Workshop::new();
    let need = "--need 'role=shell,kind=cloth,length=1.90m,width=140cm,preparation=none'";
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,full-width=150cm,paid=2m,price=20'",
        &format!("garment plan first {need}"),
        &format!("garment plan second {need}"),
        "reserve G1 shell --from L1.1",
    ]);
    workshop
        .run("cut G2 shell 1.90m --from L1.1")
        .refused(1, &["G1"]);
    let cut = workshop
        .run("cut G2 shell 1.90m --from L1.1 --break G1")
        .done();
    assert!(
        cut.out.contains("R1") && cut.err.contains("Cut 1.90 m of L1.1 for the shell of G2"),
        "{cut:?}"
    );
    workshop.audit();
}
