//! `ellwand workshop figures`: what an hour must bring.

use crate::Workshop;
use serde_json::{Value, json};

const FIGURES: &str =
    "workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%";

/// Derived from the formula of heancalculator.com, by hand: 39 600 over 46 weeks × 40 h × 60 % = 1 104 h are 35.8696;
/// over all 1 840 h they would be 21.52.
#[test]
fn a_years_figures_show_what_an_hour_must_bring_line_by_line() {
    let workshop = Workshop::new();
    let none = workshop.run("workshop figures").done();
    assert!(
        none.out.is_empty() && none.err.contains("No figures count."),
        "{none:?}"
    );
    assert_eq!(
        workshop.json("workshop figures"),
        json!({"figures": null, "days": [], "notes": []})
    );
    let set = workshop.run(FIGURES).done();
    assert!(
        set.err
            .contains("A billable hour must bring 35.87 EUR from the beginning on"),
        "{}",
        set.err
    );
    let shown = workshop.run("workshop figures").done().out;
    assert_eq!(shown, set.out);
    for line in [
        ["pay and overhead", "30000.00 + 9600.00", "39600.00"],
        ["time worked", "46 weeks x 40 h", "1840 h"],
        ["billable", "1840 h x 60 %", "1104 h"],
        ["labour an hour", "30000.00 / 1104 h", "27.17"],
        ["overhead an hour", "9600.00 / 1104 h", "8.70"],
        ["an hour must bring", "27.17 + 8.70", "35.87"],
        [
            "too little: all hours as billable",
            "39600.00 / 1840 h",
            "21.52",
        ],
    ] {
        let stands =
            |row: &str| row.starts_with(line[0]) && row.contains(line[1]) && row.ends_with(line[2]);
        assert!(shown.lines().any(stands), "{line:?}\n{shown}");
    }
    let figures = &workshop.json("workshop figures")["figures"];
    assert_eq!(
        (
            &figures["per_hour"],
            &figures["per_hour_if_all_billable"],
            &figures["billable_minutes"]
        ),
        (
            &"35.869565".into(),
            &"21.521739".into(),
            &(1_104 * 60).into()
        )
    );
    let booked = workshop.json("history")["bookings"].clone();
    assert_eq!(booked[0]["movements"], json!([]), "it moves nothing");
    assert_eq!(workshop.json("workshop")["version"], 1);
}

#[test]
fn figures_count_from_their_day_and_one_day_has_one_set() {
    let workshop = Workshop::new();
    let set = |pay: &str, from: &str| {
        let rest = "--overhead 9600 --weeks 46 --hours 40h --billable 60%";
        let _ = workshop
            .run(&format!(
                "workshop figures --pay {pay} {rest} --from {from}"
            ))
            .done();
    };
    set("30000", "2026-01-01");
    set("31000", "2027-01-01");
    set("32000", "2027-01-01");
    let on = |day: &str| {
        workshop.json(&format!("workshop figures --on {day}"))["figures"]["pay"].clone()
    };
    assert_eq!(
        (on("2025-12-31"), on("2026-12-31")),
        (Value::Null, "30000".into())
    );
    assert_eq!(on("2027-01-01"), "32000");
    assert_eq!(
        workshop.json("workshop figures")["days"],
        json!(["2027-01-01", "2026-01-01"])
    );
    let shown = workshop.run("workshop figures").done().out;
    assert!(shown.starts_with("from 2026-01-01, in EUR"), "{shown}");
    assert!(shown.contains("others count from 2027-01-01"), "{shown}");
}

#[test]
fn figures_and_operations_that_cannot_be_are_refused() {
    let workshop = Workshop::new();
    workshop.all(&[FIGURES, "operation set hem --minutes 45m"]);
    let seen = || {
        [
            workshop.run("workshop figures").done().out,
            workshop.run("operation list").done().out,
        ]
    };
    let before = seen();
    let with = |old: &str, new: &str| FIGURES.replace(old, new);
    for (line, code, words) in [
        (
            with("46", "0"),
            1,
            "a working year has 1 to 53 weeks, not 0",
        ),
        (with("46", "54"), 1, "weeks, not 54"),
        (with("46", "-1"), 1, "weeks, not -1"),
        (with("40h", "0h"), 1, "\"0h\" is not a working week"),
        (with("40h", "168h1min"), 1, "168 h at most"),
        (with("40h", "40"), 2, "needs a unit"),
        (with("60%", "0%"), 1, "leave no billable hour"),
        (with("60%", "101%"), 1, "100 % at most"),
        (with(" 60%", "=-1%"), 1, "must not be negative"),
        (with("60%", "0.6"), 2, "needs a unit"),
        (with("30000", "-30000"), 1, "-30000"),
        (with("9600", "-9600"), 1, "-9600"),
        (with("30000", "many"), 1, "many"),
        ("workshop figures --pay 30000".to_owned(), 2, "--overhead"),
        ("workshop figures --from 2026-01-01".to_owned(), 2, "--pay"),
        (format!("{FIGURES} --on 2026-01-01"), 2, "--on"),
        ("operation set hem --minutes 0m".to_owned(), 1, "is no time"),
        (
            "operation set hem --minutes 45".to_owned(),
            2,
            "needs a unit",
        ),
        (
            "operation set ' ' --minutes 45m".to_owned(),
            1,
            "the name is empty",
        ),
        (
            "operation set hem --minutes 45m --kind magic".to_owned(),
            2,
            "magic",
        ),
        (
            "operation forget cuffs".to_owned(),
            1,
            "there is no usual operation \"cuffs\"",
        ),
        (
            "garment estimate G9".to_owned(),
            1,
            "there is no garment G9",
        ),
        (
            "garment estimate G9 --apply".to_owned(),
            1,
            "there is no garment G9",
        ),
    ] {
        workshop.run(&line).refused(code, &[words]);
        assert_eq!(seen(), before, "{line}");
    }
    workshop.all(&["workshop close 2026-09-30 --yes"]);
    workshop
        .run(&format!("{FIGURES} --from 2026-09-30"))
        .refused(1, &["closed up to 2026-09-30", "choose a later first day"]);
    // The last that are accepted.
    workshop.all(&[
        "workshop figures --pay 0 --overhead 0 --weeks 53 --hours 168h --billable 100%",
        "workshop figures --pay 0 --overhead 0 --weeks 1 --hours 1min --billable 100%",
    ]);
}
