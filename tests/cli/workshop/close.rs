//! `ellwand workshop close`, and settings that do not reach into closed days.

use crate::Workshop;
use crate::stories::closed::{carried, stocked};

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
        .refused(2, &["needs confirmation"]);
    // The day after is open, and so is today, which an undo is booked on.
    workshop.all(&[
        "cut G1 shell 1m --from L1.1 --date 2026-10-01",
        "workshop pay-rate owner 24 --from 2026-10-01",
    ]);
    let undone = workshop.json("undo B4 --yes");
    assert_eq!(
        (
            &undone["bookings"][0]["on_date"],
            &undone["bookings"][0]["kind"]
        ),
        (&"2026-10-12".into(), &"undone".into())
    );
    workshop.audit();
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
    workshop.all(&["workshop close 2026-09-30 --yes", "undo B3 --yes"]);
    assert_eq!(
        (september(&workshop), october(&workshop)),
        (closed.clone(), (-180, "-18.00".to_owned()))
    );
    let report = workshop
        .run("workshop spent --from 2026-10-01 --to 2026-10-31")
        .done()
        .out;
    assert!(
        report.contains("-3 h") && report.contains("-18.00"),
        "{report}"
    );
    // Both together are what was really worked.
    assert_eq!(
        carried(&workshop, "2026-09-01", "2026-10-31"),
        (60, "6.00".to_owned())
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
