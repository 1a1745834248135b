//! Closing the books, and changes that were made for a record as it was.

use crate::workshop::Workshop;

fn stocked() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --date 2026-09-10 --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'",
        "garment plan vest --need 'role=shell,kind=cloth,length=1m,width=1m,preparation=none'",
    ]);
    workshop
}

/// Common practice: what is closed stays as it was reported; a correction is booked on an open day.
#[test]
fn nothing_is_booked_into_closed_books_and_corrections_go_into_open_days() {
    let workshop = stocked();
    workshop.all(&["workshop close 2026-09-30 --yes"]);
    assert_eq!(workshop.json("workshop")["closed_to"], "2026-09-30");
    let before = workshop.dump();
    for (line, words) in [
        (
            "buy --date 2026-09-30 --line 'material=silk,kind=thread,paid=9m,price=1'",
            "closed up to 2026-09-30",
        ),
        (
            "cut G1 shell 1m --from L1.1 --date 2026-09-12",
            "closed up to 2026-09-30",
        ),
        (
            "work G1 sewing 1h --date 2026-09-12",
            "closed up to 2026-09-30",
        ),
        (
            "workshop pay-rate owner 24 --from 2026-09-30",
            "closed up to 2026-09-30",
        ),
        (
            "workshop overhead 6 --from 2026-01-01",
            "closed up to 2026-09-30",
        ),
        (
            "workshop close 2026-09-30 --yes",
            "closed up to 2026-09-30 already",
        ),
        ("workshop close 2026-10-12 --yes", "is not over"),
        ("workshop close 2027-01-01 --yes", "is not over"),
    ] {
        workshop.run(line).refused(1, &[words]);
        assert_eq!(workshop.dump(), before, "{line}");
    }
    workshop
        .run("workshop close 2026-10-01")
        .refused(2, &["needs a yes"]);
    // The day after is open, and so is today, which an undo is booked on.
    workshop.all(&[
        "cut G1 shell 1m --from L1.1 --date 2026-10-01",
        "workshop pay-rate owner 24 --from 2026-10-01",
    ]);
    let undone = workshop.json("undo B4 --yes");
    assert_eq!(
        (&undone["booking"]["on_date"], &undone["booking"]["kind"]),
        (&"2026-10-12".into(), &"undone".into())
    );
    workshop.audit();
}

#[test]
fn closed_books_are_opened_by_undo_the_last_closing_first() {
    let workshop = stocked();
    workshop.all(&[
        "workshop close 2026-08-31 --yes",
        "workshop close 2026-09-30 --yes",
    ]);
    workshop
        .run("undo B3 --yes")
        .refused(1, &["closed up to 2026-09-30 by a later closing"]);
    workshop.all(&["undo B4 --yes"]);
    assert_eq!(workshop.json("workshop")["closed_to"], "2026-08-31");
    workshop.all(&[
        "buy --date 2026-09-15 --line 'material=silk,kind=thread,paid=9m,price=1'",
        "undo B3 --yes",
    ]);
    assert_eq!(
        workshop.json("workshop")["closed_to"],
        serde_json::Value::Null
    );
    workshop.audit();
}

#[test]
fn a_change_for_a_former_version_is_refused_and_told_what_came_between() {
    let workshop = stocked();
    let version = workshop.json("lot show L1")["version"]
        .as_str()
        .unwrap()
        .to_owned();
    assert_eq!(version, "B1");
    workshop.all(&["lot place L1.1 'box 2'"]);
    let before = workshop.dump();
    workshop
        .run(&format!("lot edit L1 --dye-lot 7 --if-version {version}"))
        .refused(
            1,
            &[
                "L1 changed since B1. B3 by owner: Put L1.1 linen in box 2.",
                "version B3",
            ],
        );
    workshop
        .run("lot edit L1 --dye-lot 7 --if-version B2")
        .refused(1, &["since B2"]);
    workshop
        .run("lot edit L1 --dye-lot 7 --if-version B9")
        .refused(1, &["has no version B9: it is at B3"]);
    workshop
        .run("garment edit G1 --name coat --if-version B1")
        .refused(1, &["G1 changed since B1"]);
    workshop
        .run("workshop set --cutting-step 1cm --if-version 1")
        .refused(1, &["at version 0, not 1"]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&[
        "lot edit L1 --dye-lot 7 --if-version B3",
        "garment edit G1 --name coat --if-version B2",
        "workshop set --cutting-step 1cm --if-version 0",
    ]);
    workshop
        .run("workshop set --zone UTC --if-version 0")
        .refused(
            1,
            &["at version 1, not 0; last owner changed the cutting step, at 2026-10-12 09:00 UTC"],
        );
    workshop.all(&["workshop set --cutting-step 1cm"]);
    assert_eq!(
        workshop.json("workshop")["version"],
        1,
        "nothing was changed, so it is the same version"
    );
}

/// Overhead that the work of a period carried, in minutes and in money.
fn carried(workshop: &Workshop, from: &str, to: &str) -> (i64, String) {
    let period = workshop.json(&format!("workshop spent --from {from} --to {to}"));
    (
        period["billable_minutes"].as_i64().unwrap(),
        period["applied_printed"].as_str().unwrap().to_owned(),
    )
}

/// Design: a closed period never changes, and what reverses it is booked in the open days. Four hours at 6.00 are 24.00.
#[test]
fn work_of_closed_days_is_taken_back_in_open_ones() {
    let september = |workshop: &Workshop| carried(workshop, "2026-09-01", "2026-09-30");
    let october = |workshop: &Workshop| carried(workshop, "2026-10-01", "2026-10-31");
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop overhead 6 --from 2026-01-01",
        "garment plan vest",
        "work G1 sewing 4h --kind machine --date 2026-09-20",
        "work G1 sewing 1h --kind machine --date 2026-10-05",
    ]);
    let closed = (240, "24.00".to_owned());
    assert_eq!(
        (september(&workshop), october(&workshop)),
        (closed.clone(), (60, "6.00".to_owned()))
    );
    // While the books are open, what is taken back was never there.
    workshop.all(&[
        "work G1 sewing 3h --kind machine --date 2026-09-21",
        "undo --yes",
    ]);
    assert_eq!(september(&workshop), closed);
    workshop.all(&["workshop close 2026-09-30 --yes", "undo B2 --yes"]);
    assert_eq!(
        (september(&workshop), october(&workshop)),
        (closed.clone(), (-180, "-18.00".to_owned()))
    );
    let told = workshop
        .run("workshop spent --from 2026-10-01 --to 2026-10-31")
        .done()
        .out;
    assert!(told.contains("-3 h") && told.contains("-18.00"), "{told}");
    // Both together are what was really worked.
    assert_eq!(
        carried(&workshop, "2026-09-01", "2026-10-31"),
        (60, "6.00".to_owned())
    );
    workshop.audit();
}

/// The same for a garment that is given up, and for taking that back.
#[test]
fn a_garment_that_is_given_up_changes_no_closed_period() {
    let september = |workshop: &Workshop| carried(workshop, "2026-09-01", "2026-09-30");
    let october = |workshop: &Workshop| carried(workshop, "2026-10-01", "2026-10-31");
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop overhead 6 --from 2026-01-01",
        "garment plan vest",
        "work G1 sewing 4h --kind machine --date 2026-09-20",
        "work G1 sewing 1h --kind machine --date 2026-10-05",
        "workshop close 2026-09-30 --yes",
        "garment cancel G1",
    ]);
    let closed = (240, "24.00".to_owned());
    assert_eq!(
        (september(&workshop), october(&workshop)),
        (closed.clone(), (-240, "-24.00".to_owned()))
    );
    let period = workshop.json("workshop spent --from 2026-10-01 --to 2026-10-31");
    assert_eq!(period["cancelled_minutes"], 300);
    workshop.all(&["undo --yes"]);
    assert_eq!(
        (september(&workshop), october(&workshop)),
        (closed, (60, "6.00".to_owned()))
    );
    workshop.audit();
}

/// Settings that reach into closed days would change what was reported of them.
#[test]
fn settings_do_not_reach_into_closed_days() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop spent --from 2026-09-01 --to 2026-09-30 --overhead 100",
        "workshop tax-reclaim yes --from 2026-09-01",
        "workshop pay-rate owner 24 --from 2026-09-01",
        "workshop close 2026-09-30 --yes",
    ]);
    let seen = || {
        let spent = workshop
            .run("workshop spent --from 2026-09-01 --to 2026-09-30 --json")
            .done()
            .out;
        spent + &workshop.run("workshop --json").done().out
    };
    let before = seen();
    for line in [
        "workshop spent --from 2026-09-01 --to 2026-09-30 --overhead 120",
        "workshop spent --from 2026-08-01 --to 2026-08-31 --overhead 120",
        "workshop spent --from 2026-09-01 --to 2026-09-30 --forget",
        "workshop tax-reclaim no --from 2026-09-15",
        "workshop tax-reclaim --from 2026-09-01 --forget",
        "workshop pay-rate owner --from 2026-09-01 --forget",
        "workshop overhead 9 --from 2026-09-30",
    ] {
        workshop
            .run(line)
            .refused(1, &["closed up to 2026-09-30", "hint: "]);
        assert_eq!(seen(), before, "{line}");
    }
    // A period that is not over is open, though it began in closed days.
    workshop.all(&[
        "workshop spent --from 2026-01-01 --to 2026-12-31 --overhead 1200",
        "workshop tax-reclaim no --from 2026-10-01",
    ]);
}

/// Common practice: nobody works on what is finished, and nothing is handed over before it is.
#[test]
fn a_garment_is_finished_after_its_last_work_and_handed_over_after_that() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest",
        "work G1 sewing 4h --kind machine --date 2026-10-08",
    ]);
    for line in [
        "garment finish G1 --date 2026-10-07",
        "garment cancel G1 --date 2026-10-07",
    ] {
        workshop.run(line).refused(
            1,
            &[
                "on 2026-10-07 G1 was still in hand",
                "of 2026-10-08",
                "use 2026-10-08",
            ],
        );
    }
    workshop.all(&["garment finish G1 --date 2026-10-08"]);
    workshop
        .run("garment deliver G1 --date 2026-10-07")
        .refused(1, &["of 2026-10-08"]);
    // Handed over twice, it is handed over the second time after it came back.
    workshop.all(&["garment deliver G1 --date 2026-10-08", "undo --yes"]);
    workshop
        .run("garment deliver G1 --date 2026-10-08")
        .refused(1, &["of 2026-10-12"]);
    workshop.all(&["garment deliver G1"]);
    // Work that was taken back is in nobody's way.
    workshop.all(&[
        "garment plan coat",
        "work G2 sewing 4h --kind machine --date 2026-10-08",
        "undo --yes",
        "garment finish G2 --date 2026-10-01",
        "garment deliver G2 --date 2026-10-01",
    ]);
    workshop.audit();
}

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
