//! `ellwand wash`: a wash test that is chosen.

use crate::Workshop;

/// The user can say which test counts; the latest counts else.
#[test]
fn a_chosen_wash_test_counts_instead_of_the_latest() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm --cutting-step 1mm",
        "buy --line 'material=linen,kind=cloth,paid=8m,price=80,full-width=150cm'",
        "wash test L1 --preparation washed --length 350mm=336mm",
        "wash test L1 --preparation washed --length 400mm=360mm",
        "garment plan dress --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=washed'",
        "reserve G1 shell --from L1.1",
    ]);
    let promise = || workshop.json("garment show G1")["needs"][0]["reservations"][0].clone();
    let names = |part: &str| promise()["shrinkage"].as_str().unwrap().contains(part);
    // 2.40 ÷ 0.90, up to the millimetre.
    assert_eq!(promise()["held"]["length_m"], "2.667");
    assert!(names("wash test 2, washed"), "{}", promise());
    let before = workshop.dump();
    workshop
        .run("lot edit L1 --wash-test 3")
        .refused(1, &["no wash test 3", "1, 2", "hint: "]);
    assert_eq!(workshop.dump(), before);
    // 2.40 ÷ 0.96.
    let changed = workshop.json("lot edit L1 --wash-test 1")["changed"][0].clone();
    assert_eq!(changed["held"]["length_m"], "2.5");
    assert!(names("wash test 1, washed"), "{}", promise());
    let shown = workshop.run("lot show L1").done().out;
    assert!(
        shown.contains("Wash test 1 of 2026-10-12, washed, in use"),
        "{shown}"
    );
    // What rests on a test keeps it.
    workshop
        .run("undo B3 --yes")
        .refused(1, &["wash test 1 of L1 was chosen", "hint: "]);
    workshop.all(&["lot edit L1 --wash-test latest"]);
    assert_eq!(promise()["held"]["length_m"], "2.667");
    workshop.all(&["undo --yes", "undo --yes"]);
    assert_eq!(
        promise()["held"]["length_m"],
        "2.667",
        "no test is chosen, as before"
    );
    workshop.audit();
}

/// Two pieces out of one wash: lengths and a width beside their codes, all or none.
#[test]
fn pieces_that_were_washed_together_are_noted_together() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=linen,kind=cloth,paid=3m,price=30,full-width=150cm,shrinkage=4%/2%' \
             --line 'material=cotton,kind=cloth,paid=2m,price=20,full-width=140cm,shrinkage=5%/1%'",
    ]);
    let before = workshop.dump();
    workshop.run("wash done L1.1=1m L2.1=1m").refused(
        1,
        &["L1.1 shows a loss of 66.7 %", "L2.1 shows a loss of 50 %"],
    );
    workshop
        .run("wash done L1.1=2.9m L1.1=2.8m")
        .refused(1, &["L1.1 is given twice"]);
    workshop
        .run("wash done L1.1=2.9m L2.1")
        .refused(2, &["what does L2.1 measure now?", "L2.1=3.80m"]);
    workshop
        .run("wash done L1.1=2.9m L2.1=1.9m --width 138cm")
        .refused(2, &["L2.1=2.94mx140cm"]);
    workshop
        .run("wash done L1.1=2.9")
        .refused(2, &["for example 2.9m"]);
    assert_eq!(workshop.dump(), before);
    let done = workshop.run("wash done L1.1=2.88m L2.1=1.90mx138cm").done();
    assert!(
        done.err.contains("L1.1 was washed and measures 2.88m now")
            && done.err.contains("L2.1 was washed and measures 1.90m now"),
        "{}",
        done.err
    );
    let shelf = workshop.json("shelf");
    let lengths: Vec<&str> = shelf["pieces"]
        .as_array()
        .unwrap()
        .iter()
        .map(|piece| piece["on_hand"]["length_m"].as_str().unwrap())
        .collect();
    assert_eq!(lengths, ["2.88", "1.9"]);
    workshop.audit();
    workshop.all(&["undo --yes"]);
    assert_eq!(
        workshop.json("shelf")["pieces"][0]["on_hand"]["length_m"],
        "3"
    );
    workshop.audit();
}

/// One piece is typed either way.
#[test]
fn a_length_beside_its_piece_is_the_one_of_the_flag() {
    let noted = |line: &str| {
        let workshop = Workshop::new();
        workshop.all(&[
            "buy --line 'material=linen,kind=cloth,paid=3m,price=30,full-width=150cm,shrinkage=4%/2%'",
        ]);
        workshop.json(line)["piece"].clone()
    };
    assert_eq!(
        noted("wash done L1.1=2.88mx147cm"),
        noted("wash done L1.1 --length 2.88m --width 147cm")
    );
}
