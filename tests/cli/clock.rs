//! A clock that nothing is booked by in silence.

use crate::books::{environment, run_in};
use chrono::{DateTime, Utc};
use ellwand::Environment;
use tempfile::TempDir;

/// The machine's battery is empty, and it believes that it is 2020.
#[test]
fn a_clock_before_the_last_booking_is_asked_about() {
    let folder = TempDir::new().unwrap();
    let at = |now: &str| Environment {
        now: Some(Ok(now.parse::<DateTime<Utc>>().unwrap())),
        ..environment(folder.path())
    };
    let (right, wrong) = (at("2026-10-12T09:00:00Z"), at("2020-01-01T00:00:00Z"));
    let line = "buy --line 'material=button,kind=trim,paid=3,price=1'";
    let _ = run_in(&right, line).done();
    let refused = run_in(&wrong, line);
    refused.refused(
        1,
        &[
            "says 2020-01-01 00:00 UTC",
            "last booking was made at 2026-10-12 09:00 UTC",
            "--yes",
        ],
    );
    let _ = run_in(&wrong, "shelf").done();
    let booked = run_in(&wrong, &format!("{line} --yes")).done();
    assert!(
        booked
            .err
            .contains("the book's clock says 2020-01-01 00:00 UTC"),
        "{}",
        booked.err
    );
    let history = run_in(&right, "history").done().out;
    assert_eq!(history.matches("Bought").count(), 2, "{history}");
}
