//! Acts that are refused: what is said, and that nothing changes.

use crate::Workshop;
use crate::stories::refusals::stocked;

#[test]
fn a_width_within_the_former_selvedges_is_a_slip_of_the_ruler() {
    let workshop = Workshop::new();
    let _ = workshop
        .run("buy --line 'material=a,kind=cloth,full-width=150cm,selvedges=2cm,paid=4m,price=1'")
        .done();
    let before = workshop.dump();
    for command in [
        "wash done L1.1 --preparation washed --length 3.90m",
        "lot measure L1.1 3.90m --after washing",
    ] {
        workshop
            .run(&format!("{command} --width 2cm"))
            .refused(1, &["between the selvedges of L1.1"]);
        assert_eq!(workshop.dump(), before, "changed by: ellwand {command}");
    }
}

#[test]
fn a_promise_beyond_what_is_free_names_who_holds_the_rest() {
    let workshop = stocked();
    workshop.all(&["reserve G1 shell --from L1.1"]);
    let before = workshop.dump();
    workshop.run("reserve G2 shell --from L1.1").refused(
        1,
        &["L1.1 has 1.95 m free", "2.05 m", "R1 holds 2.05 m", "G1"],
    );
    // A cut takes free cloth only, unless it is said whose promise it may cut into.
    workshop
        .run("cut G2 shell 3m --from L1.1")
        .refused(1, &["R1 holds"]);
    assert_eq!(workshop.dump(), before);
    let cut = workshop.json("cut G2 shell 3m --from L1.1 --break G1");
    assert_eq!(cut["broken"][0]["reservation"], "R1");
    workshop.audit();
}

#[test]
fn a_customers_cloth_serves_only_that_customer() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=silk,kind=cloth,paid=3m,price=0,full-width=140cm,owner=Ada'",
        "garment plan dress --for Ada --need 'role=shell,kind=cloth,length=1m,width=130cm,preparation=none'",
        "garment plan shirt --need 'role=shell,kind=cloth,length=1m,width=130cm,preparation=none'",
    ]);
    assert!(
        workshop.json("candidates G2")["needs"][0]["serve"]
            .as_array()
            .unwrap()
            .is_empty()
    );
    workshop
        .run("reserve G2 shell --from L1.1")
        .refused(1, &["belongs to customer C1"]);
    workshop.all(&["reserve G1 shell --from L1.1"]);
    assert_eq!(workshop.json("lot show L1")["landed"], "0");
    workshop.audit();
}

/// A cut that is booked for an earlier day must have been possible then, and on every day since.
#[test]
fn a_day_in_between_may_not_go_negative() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --date 2026-10-05 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan dress --need 'role=shell,kind=cloth,length=1m,width=140cm,preparation=none'",
        "cut G1 shell 3m --from L1.1 --date 2026-10-08",
        "lot measure L1.1 3m --really --date 2026-10-10",
    ]);
    let before = workshop.dump();
    // 1 m was there on the 9th, whatever was found on the 10th.
    workshop
        .run("cut G1 shell 2m --from L1.1 --date 2026-10-09")
        .refused(1, &["2026-10-09", "1.00 m"]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&[
        "cut G1 shell 2m --from L1.1 --date 2026-10-10",
        "garment finish G1",
    ]);
    let before = workshop.dump();
    workshop.run("garment finish G1").refused(1, &["finished"]);
    workshop
        .run("reserve G1 shell --from L1.1")
        .refused(1, &["finished"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}
