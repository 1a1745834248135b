//! Rates that are set afterwards, and the final costs that they would change.

use crate::Workshop;

/// `work` calls the cost of a finished garment final: 5 h at 24.00 are 120.00, and no rate of a former day makes them 200.00
/// unasked.
#[test]
fn a_backdated_rate_asks_before_it_changes_a_final_cost() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24 --from 2026-09-01",
        "workshop overhead 6 --from 2026-09-01",
        "garment plan vest",
        "work G1 sewing 5h --kind machine --date 2026-10-08",
        "garment plan coat",
        "work G2 sewing 1h --kind machine --date 2026-10-08",
        "garment finish G1",
        "garment deliver G1",
    ]);
    let cost = || workshop.json("cost G1")["job"]["actual_printed"].clone();
    assert_eq!(cost(), "150.00");
    let figures =
        "workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%";
    for line in [
        "workshop pay-rate owner 40 --from 2026-10-01",
        "workshop pay-rate owner 40 --kind machine --from 2026-10-08",
        "workshop pay-rate owner --from 2026-09-01 --forget",
        "workshop overhead 9 --from 2026-10-08",
        &format!("{figures} --from 2026-10-01"),
    ] {
        workshop
            .run(line)
            .refused(1, &["G1 is finished", "its cost is final", "--really"]);
        assert_eq!(cost(), "150.00", "{line}");
    }
    // Later days, other people and what says the same change nothing.
    workshop.all(&[
        "workshop pay-rate owner 40 --from 2026-10-09",
        "workshop pay-rate owner 24 --from 2026-10-08",
        "workshop pay-rate anna 18 --paid --from 2026-09-01",
        "workshop overhead 9 --from 2026-10-09",
    ]);
    assert_eq!(cost(), "150.00");
    workshop.all(&["workshop pay-rate owner 40 --from 2026-10-08 --really"]);
    assert_eq!(cost(), "230.00");
    workshop.audit();
}

/// By hand: 1.00 m for 10.00 and 2 h at 20.00 make 50.00; what was finished without any overhead is final without it, too.
#[test]
fn a_first_overhead_asks_before_it_changes_a_final_cost() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 20",
        "buy --line 'material=linen,kind=cloth,paid=1m,price=10,full-width=150cm'",
        "garment plan apron --need 'role=shell,kind=cloth,length=1m,width=100cm,preparation=none'",
        "cut G1 shell 1m --from L1.1",
        "work G1 sewing 2h --kind machine",
        "garment finish G1",
    ]);
    let cost = || workshop.json("cost G1")["job"]["actual_printed"].clone();
    assert_eq!(cost(), "50.00");
    workshop
        .run("workshop overhead 5")
        .refused(1, &["G1 is finished", "its cost is final"]);
    assert_eq!(cost(), "50.00");
    workshop.all(&["workshop overhead 5 --really"]);
    assert_eq!(cost(), "60.00");
    workshop.audit();
}

/// By hand: 7 h planned carry 7 × 4.00 of overhead, whatever the hours themselves cost.
#[test]
fn planned_hours_without_a_rate_carry_their_overhead() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop overhead 4",
        "garment plan apron --operation 'name=sewing,kind=hand,planned=7h'",
    ]);
    let sheet = workshop.json("cost G1");
    let lines = sheet["lines"].as_array().unwrap();
    let overhead = lines
        .iter()
        .find(|line| line["group"] == "overhead")
        .unwrap();
    assert_eq!(overhead["cost"]["planned_printed"], "28.00");
    assert!(sheet["job"]["planned_printed"].is_null());
    assert!(
        sheet["notes"]
            .to_string()
            .contains("there is no planned total"),
        "{}",
        sheet["notes"]
    );
    workshop.audit();
}
