//! Bills that come when the garment is finished, or nearly.

use crate::Workshop;

/// 5 m for 100.00 on 1 October, 2 m of it (40.00) cut on the 2nd, freight of 10.00 on the 10th, of which 4.00 are the cut cloth's.
fn cut_and_billed(count: u32) -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --date 2026-10-01 --line 'material=wool,kind=cloth,paid=5m,price=100,full-width=150cm'",
        &format!(
            "garment plan vest --count {count} --need 'role=shell,kind=cloth,length=90cm,width=1m,preparation=none'"
        ),
        "cut G1 shell 2m --from L1.1 --date 2026-10-02",
        "buy charge P1 'freight=10,by=value' --date 2026-10-10",
    ]);
    workshop
}

/// The garment was done on the 8th, whenever the carrier's bill comes; it was not done before it was cut.
#[test]
fn a_later_bill_does_not_stop_an_earlier_finish() {
    let workshop = cut_and_billed(1);
    workshop
        .run("garment finish G1 --really --date 2026-10-01")
        .refused(1, &["use 2026-10-02 or a later day"]);
    workshop.all(&["garment finish G1 --really --date 2026-10-08"]);
    assert_eq!(workshop.json("history B5")["on_date"], "2026-10-08");
    workshop.audit();
}

/// One of two spoiled takes 22.00 of the 44.00, and 40.00 were there on the 8th. Both take 44.00, which were not (derived).
#[test]
fn what_was_not_there_on_a_day_is_not_lost_on_it() {
    let workshop = cut_and_billed(2);
    let spoiled = |number| {
        format!(
            "garment finish G1 --really --spoiled {number} --spoilage own-mistake --date 2026-10-08"
        )
    };
    workshop
        .run(&spoiled(2))
        .refused(1, &["use 2026-10-10 or a later day"]);
    workshop.all(&[&spoiled(1)]);
    workshop.audit();
}

/// Freight of 10.00 after the delivery: 4.00 are for the 2 m of 5 m that were cut (derived).
#[test]
fn the_outcome_says_what_a_bill_after_the_finish_had_for_it() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,paid=5m,price=100,full-width=150cm'",
        "garment plan vest --need 'role=shell,kind=cloth,length=1.96m,width=1m,preparation=none'",
        "quote make G1 --margin 35%",
        "quote accept Q1 --version 1",
        "cut G1 shell 2m --from L1.1",
        "garment finish G1",
        "garment deliver G1",
    ]);
    let notes = || workshop.json("quote outcome Q1")["notes"].to_string();
    assert!(!notes().contains("for its material"), "{}", notes());
    workshop.all(&["buy charge P1 'freight=10,by=value'"]);
    assert!(
        notes().contains("a bill after it was finished (B8, 2026-10-12) adds to its material 4.00"),
        "{}",
        notes()
    );
    workshop.all(&["undo B8"]);
    assert!(!notes().contains("for its material"), "{}", notes());
    workshop.audit();
}
