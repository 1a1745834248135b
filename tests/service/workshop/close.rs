//! Books that are closed: what is refused in closed days, and how they are opened again.

use crate::Workshop;
use crate::stories::closed::{carried, stocked};

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
fn a_change_for_a_former_version_is_refused_and_shown_what_came_between() {
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
                "G1 was not done on 2026-10-07",
                "from 2026-10-08",
                "use 2026-10-08",
            ],
        );
    }
    workshop.all(&["garment finish G1 --date 2026-10-08"]);
    workshop
        .run("garment deliver G1 --date 2026-10-07")
        .refused(1, &["from 2026-10-08"]);
    // Handed over twice, it is handed over the second time after it came back.
    workshop.all(&["garment deliver G1 --date 2026-10-08", "undo --yes"]);
    workshop
        .run("garment deliver G1 --date 2026-10-08")
        .refused(1, &["from 2026-10-12"]);
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
