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
        .refused(1, &["1.083 m", "needs 1.084 m"]);
    let cannot = workshop.json("candidates G1")["needs"][0]["cannot"][0]["reason"].clone();
    assert_eq!(cannot, "1.083 m free, 1.084 m needed");
    let narrow = workshop.json("candidates G2")["needs"][0]["cannot"][0]["reason"].clone();
    let report = narrow.as_str().unwrap();
    assert!(
        report.starts_with("150 cm usable, the need asks for 150.01 cm"),
        "{report}"
    );
    workshop
        .run("cut G1 shell 1.083334m --from L1.1 --really")
        .refused(1, &["1.083 m", "needs 1.084 m"]);
    workshop.all(&["workshop set --units imperial"]);
    // 1.083333 m and 1.083334 m ÷ 0.9144 m: 1.1847474 and 1.1847485.
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["1.184 yd", "needs 1.185 yd"]);
    // What is shown to be there can be cut, in either unit; a rest below a millimetre is too short to keep.
    workshop.all(&[
        "cut G1 shell 1.184yd --from L1.1 --really",
        "undo --yes",
        "cut G1 shell 1.083m --from L1.1 --really",
    ]);
    let left = workshop.json("lot show L1")["pieces"][0]["on_hand"]["length_m"].clone();
    assert_eq!(left, "0");
    workshop.audit();
}

/// A cut that its own promise covers needs nothing more; what is missing is one length for the other promise.
/// 1.2 kg of 200 g/m² at 1.50 m are 4.00 m for 40.00: a metre is 10.00, as well as the length is known.
#[test]
fn what_an_estimated_length_costs_stays_an_estimate() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=1.2kg,price=40,full-width=150cm,mass=200gsm'",
        "garment plan top --need 'role=shell,kind=cloth,length=96cm,width=140cm,preparation=none'",
    ]);
    let cut = workshop.run("cut G1 shell 1m --from L1.1").done().err;
    assert!(cut.contains("of G1: 10.00 EUR (est.)."), "{cut}");
    workshop.all(&["undo --yes", "lot measure L1.1 4m"]);
    let cut = workshop.run("cut G1 shell 1m --from L1.1").done().err;
    assert!(cut.contains("of G1: 10.00 EUR."), "{cut}");
    workshop
        .run("cut G1 shell --from L1.1")
        .refused(1, &["for example 2.60m"]);
    workshop.audit();
}

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

const TWO_NEEDS: &[&str] = &[
    "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm' --line 'material=button,kind=trim,paid=9,price=9'",
    "garment plan top --need 'role=shell,kind=cloth,length=1.96m,width=140cm,preparation=none' \
         --need 'role=buttons,kind=trim,count=4'",
    "reserve G1 --all --yes",
];

#[test]
fn all_that_is_promised_is_cut_once_it_was_shown() {
    let workshop = Workshop::new();
    workshop.all(TWO_NEEDS);
    let before = workshop.dump();
    let shown = workshop.run("cut G1 --all");
    assert_eq!(shown.code, 2);
    assert!(
        shown.out.contains("2.00 m") && shown.out.contains("buttons"),
        "{}",
        shown.out
    );
    assert!(
        shown.err.contains("run it again with --yes"),
        "{}",
        shown.err
    );
    assert_eq!(workshop.dump(), before);
    let cut = workshop.run("cut G1 --all --yes").done();
    // 2 of 4 m of 40.00, and 4 of 9 buttons of 9.00.
    assert!(
        cut.err
            .contains("Cut all that was promised to G1: 24.00 EUR"),
        "{}",
        cut.err
    );
    let garment = workshop.json("garment show G1");
    assert_eq!(garment["state"], "cut-into");
    workshop.audit();
    workshop.run("cut G1 --all --yes").refused(
        1,
        &["G1 has no active promise to cut from", "reserve G1 --all"],
    );
    workshop.all(&["undo --yes", "undo --yes"]);
    assert_eq!(workshop.json("garment show G1")["state"], "planned");
    workshop.audit();
}

/// 2.05 m of 41.00: 2.00 m are cut, and 5 cm are too short to keep. That they are waste, and all of it costs 41.00, is said before.
#[test]
fn what_is_not_kept_of_all_is_said_before_it_is_cut() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=2.05m,price=41,full-width=150cm'",
        "garment plan top --need 'role=shell,kind=cloth,length=1.96m,width=140cm,preparation=none'",
        "reserve G1 --all --yes",
    ]);
    let before = workshop.dump();
    let shown = workshop.run("cut G1 --all");
    assert_eq!(shown.code, 2);
    assert!(
        shown.out.contains("R1") && shown.out.contains("41.00"),
        "{}",
        shown.out
    );
    assert!(
        shown
            .err
            .contains("the rest of L1.1, 0.05 m, is too short to keep"),
        "{}",
        shown.err
    );
    assert_eq!(workshop.dump(), before);
    let cut = workshop.run("cut G1 --all --yes").done();
    assert!(
        cut.err
            .contains("Cut all that was promised to G1: 41.00 EUR (B4)."),
        "{}",
        cut.err
    );
}

/// What is in doubt of several cuts is asked about at once, and nothing is cut.
#[test]
fn what_is_in_doubt_of_all_is_asked_at_once() {
    let workshop = Workshop::new();
    let need = |role: &str| {
        format!("--need 'role={role},kind=cloth,length=1m,width=140cm,preparation=washed'")
    };
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm,shrinkage=4%/0%'",
        &format!("garment plan top {} {}", need("front"), need("back")),
        "reserve G1 --all --yes",
    ]);
    let before = workshop.dump();
    let refused = workshop.run("cut G1 --all --yes");
    assert_eq!(refused.code, 1);
    for part in [
        "for the front: it is still raw",
        "for the back: it is still raw",
        "--really",
    ] {
        assert!(refused.err.contains(part), "{part}: {}", refused.err);
    }
    assert_eq!(workshop.dump(), before);
    let cut = workshop.json("cut G1 --all --yes --really");
    let roles: Vec<&str> = cut["cuts"]
        .as_array()
        .unwrap()
        .iter()
        .map(|cut| cut["need"].as_str().unwrap())
        .collect();
    assert_eq!(roles, ["front", "back"]);
    workshop.audit();
}

#[test]
fn all_and_a_need_do_not_go_together_and_one_of_them_is_asked_for() {
    let workshop = Workshop::new();
    workshop.all(TWO_NEEDS);
    workshop
        .run("cut G1")
        .refused(2, &["which need is cut?", "ellwand cut G1 --all"]);
    workshop
        .run("cut G1 shell --all")
        .refused(2, &["cannot be used with"]);
}

/// The request that cut all is repeated as it was, though nothing is promised any more.
#[test]
fn a_repeated_cut_of_all_cuts_nothing_more() {
    let workshop = Workshop::new();
    workshop.all(TWO_NEEDS);
    let id = "0192f0c0-0000-7000-8000-00000000000c";
    let line = format!("cut G1 --all --yes --id {id}");
    let first = workshop.json(&line);
    let before = workshop.dump();
    assert_eq!(workshop.json(&line), first);
    assert_eq!(workshop.dump(), before);
}
