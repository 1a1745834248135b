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
        .run("undo B2 --yes")
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
