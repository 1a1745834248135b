//! Customers' measurements: whose, when, and for which garment.

use crate::Workshop;
use serde_json::Value;

/// Name, length, day, and whether a newer one is kept.
fn rows(measures: &Value) -> Vec<(String, String, String, bool)> {
    let text = |measure: &Value, field: &str| measure[field].as_str().unwrap().to_owned();
    let measures = measures.as_array().map_or(&[][..], Vec::as_slice);
    measures
        .iter()
        .map(|measure| {
            (
                text(measure, "name"),
                text(measure, "length"),
                text(measure, "on_date"),
                measure["newer"].as_bool().unwrap(),
            )
        })
        .collect()
}

fn row(name: &str, length: &str, day: &str, newer: bool) -> (String, String, String, bool) {
    (name.to_owned(), length.to_owned(), day.to_owned(), newer)
}

/// A vest planned on the 5th for somebody measured on the 1st, and again on the 10th.
fn measured() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest --for Ada --date 2026-10-05",
        "customer measure C1 Chest=104cm,collar=41cm --date 2026-10-01",
        "customer measure ada chest=106cm --date 2026-10-10",
    ]);
    workshop
}

#[test]
fn the_latest_are_shown_and_the_others_kept() {
    let workshop = measured();
    let (old, new) = (
        row("chest", "104cm", "2026-10-01", true),
        row("chest", "106cm", "2026-10-10", false),
    );
    let collar = row("collar", "41cm", "2026-10-01", false);
    let shown = rows(&workshop.json("customer show Ada")["measures"]);
    assert_eq!(shown, [new.clone(), collar.clone()]);
    let all = rows(&workshop.json("customer show C1 --all")["measures"]);
    assert_eq!(all, [new, old, collar]);
    workshop.audit();
}

#[test]
fn a_garment_shows_those_of_the_day_it_was_planned() {
    let workshop = measured();
    let of = |garment: &str| rows(&workshop.json(&format!("garment show {garment}"))["measures"]);
    let collar = row("collar", "41cm", "2026-10-01", false);
    assert_eq!(
        of("G1"),
        [row("chest", "104cm", "2026-10-01", true), collar.clone()]
    );
    // Planned before anything was measured: the first since. For nobody: none.
    workshop.all(&[
        "garment plan coat --for C1 --date 2026-09-20",
        "garment plan apron",
    ]);
    assert_eq!(
        of("G2"),
        [row("chest", "104cm", "2026-10-01", true), collar.clone()]
    );
    assert_eq!(of("G3"), []);
    workshop.all(&["undo B3"]);
    assert_eq!(
        of("G1"),
        [row("chest", "104cm", "2026-10-01", false), collar]
    );
}

/// 1 cm and 3 m are the ends of what a person measures (common practice).
#[test]
fn what_no_person_measures_is_asked_about() {
    let workshop = measured();
    for measure in ["chest=9.9mm", "chest=3.01m", "chest=104m"] {
        workshop
            .run(&format!("customer measure C1 {measure}"))
            .refused(1, &["between 1 cm and 3 m", "--really"]);
    }
    workshop.all(&[
        "customer measure C1 thumb=1cm,height=3m",
        "customer measure C1 train=3.50m --really",
    ]);
    workshop
        .run("customer measure C1 chest=1m,CHEST=2m")
        .refused(1, &["chest is measured twice"]);
    workshop
        .run("customer measure C9 chest=1m")
        .refused(1, &["there is no customer C9"]);
}

#[test]
fn they_go_with_the_name() {
    let workshop = measured();
    workshop.all(&["garment cancel G1", "customer erase C1"]);
    assert_eq!(
        rows(&workshop.json("customer show C1 --all")["measures"]),
        []
    );
    workshop
        .run("customer measure C1 chest=104cm")
        .refused(1, &["C1 has been erased"]);
    // Taking back what was measured brings nothing back.
    workshop.all(&["undo B3"]);
    assert_eq!(
        rows(&workshop.json("customer show C1 --all")["measures"]),
        []
    );
    let history = workshop.json("history --all").to_string();
    assert!(
        !history.contains("104") && !history.contains("chest"),
        "{history}"
    );
    workshop.audit();
}
