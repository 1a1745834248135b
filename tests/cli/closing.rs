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
        ("cut G1 shell 1m --from L1.1 --date 2026-09-12", "closed up to 2026-09-30"),
        ("work G1 sewing 1h --date 2026-09-12", "closed up to 2026-09-30"),
        ("workshop pay-rate owner 24 --from 2026-09-30", "closed up to 2026-09-30"),
        ("workshop overhead 6 --from 2026-01-01", "closed up to 2026-09-30"),
        ("workshop close 2026-09-30 --yes", "closed up to 2026-09-30 already"),
        ("workshop close 2026-10-12 --yes", "is not over"),
        ("workshop close 2027-01-01 --yes", "is not over"),
    ] {
        workshop.run(line).refused(1, &[words]);
        assert_eq!(workshop.dump(), before, "{line}");
    }
    workshop.run("workshop close 2026-10-01").refused(2, &["needs a yes"]);
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
    workshop.all(&["workshop close 2026-08-31 --yes", "workshop close 2026-09-30 --yes"]);
    workshop.run("undo B3 --yes").refused(1, &["closed up to 2026-09-30 by a later closing"]);
    workshop.all(&["undo B4 --yes"]);
    assert_eq!(workshop.json("workshop")["closed_to"], "2026-08-31");
    workshop
        .all(&["buy --date 2026-09-15 --line 'material=silk,kind=thread,paid=9m,price=1'", "undo B3 --yes"]);
    assert_eq!(workshop.json("workshop")["closed_to"], serde_json::Value::Null);
    workshop.audit();
}

#[test]
fn a_change_for_a_former_version_is_refused_and_told_what_came_between() {
    let workshop = stocked();
    let version = workshop.json("lot show L1")["version"].as_str().unwrap().to_owned();
    assert_eq!(version, "B1");
    workshop.all(&["lot place L1.1 'box 2'"]);
    let before = workshop.dump();
    workshop
        .run(&format!("lot edit L1 --dye-lot 7 --if-version {version}"))
        .refused(1, &["L1 changed since B1. B3 by owner: Put L1.1 linen in box 2.", "version B3"]);
    workshop.run("lot edit L1 --dye-lot 7 --if-version B2").refused(1, &["since B2"]);
    workshop.run("lot edit L1 --dye-lot 7 --if-version B9").refused(1, &["has no version B9: it is at B3"]);
    workshop.run("garment edit G1 --name coat --if-version B1").refused(1, &["G1 changed since B1"]);
    workshop.run("workshop set --cutting-step 1cm --if-version 1").refused(1, &["at version 0, not 1"]);
    assert_eq!(workshop.dump(), before);
    workshop.all(&[
        "lot edit L1 --dye-lot 7 --if-version B3",
        "garment edit G1 --name coat --if-version B2",
        "workshop set --cutting-step 1cm --if-version 0",
    ]);
    workshop
        .run("workshop set --zone UTC --if-version 0")
        .refused(1, &["at version 1, not 0; last owner changed the cutting step, at 2026-10-12 09:00 UTC"]);
    workshop.all(&["workshop set --cutting-step 1cm"]);
    assert_eq!(workshop.json("workshop")["version"], 1, "nothing was changed, so it is the same version");
}
