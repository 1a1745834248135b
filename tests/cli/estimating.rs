//! What an hour must bring, and how long a garment is likely to take.

use crate::workshop::Workshop;
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
    // Nothing is booked: settings are not.
    assert_eq!(workshop.json("history")["bookings"], json!([]));
    assert_eq!(workshop.json("workshop")["version"], 1);
}

/// The overhead of 552 h, half of the billable ones, is half of the 9 600: the ratio was not rounded on the way.
#[test]
fn the_cost_sheet_takes_the_overhead_of_the_figures() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop overhead 5 --from 2026-10-12",
        FIGURES,
        "workshop pay-rate owner 24",
        "garment plan coat --operation 'name=sewing,kind=hand,planned=552h'",
    ]);
    let rates = &workshop.json("workshop")["overhead_rates"];
    assert_eq!(
        *rates,
        json!([{"amount": "9600", "minutes": 66_240, "from": "2026-10-12"}])
    );
    let sheet = workshop.json("cost G1");
    let overhead = sheet["lines"]
        .as_array()
        .unwrap()
        .iter()
        .find(|line| line["group"] == "overhead");
    assert_eq!(overhead.unwrap()["cost"]["planned"], "4800");
    // An overhead that is set apart from them is said, and one that says the same is not.
    assert_eq!(workshop.json("workshop figures")["notes"], json!([]));
    workshop.all(&["workshop overhead --amount 4800 --hours 552h"]);
    assert_eq!(workshop.json("workshop figures")["notes"], json!([]));
    workshop.all(&["workshop overhead 9"]);
    let note =
        "the cost sheet of 2026-10-12 takes another overhead: the one that counts from 2026-10-12";
    assert_eq!(workshop.json("workshop figures")["notes"], json!([note]));
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
        (with("46", "0"), 1, "0 weeks are worked in no year: 1 to 53"),
        (with("46", "54"), 1, "54 weeks"),
        (with("46", "-1"), 1, "-1 weeks"),
        (with("40h", "0h"), 1, "\"0h\" is no week's work"),
        (with("40h", "168h1min"), 1, "at most 168 h"),
        (with("40h", "40"), 2, "needs a unit"),
        (with("60%", "0%"), 1, "give no billable hour"),
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
        .refused(1, &["closed up to 2026-09-30", "from a later day"]);
    // The last that are accepted.
    workshop.all(&[
        "workshop figures --pay 0 --overhead 0 --weeks 53 --hours 168h --billable 100%",
        "workshop figures --pay 0 --overhead 0 --weeks 1 --hours 1min --billable 100%",
    ]);
}

#[test]
fn usual_operations_are_one_a_name_whatever_its_capitals() {
    let workshop = Workshop::new();
    assert!(
        workshop
            .run("operation list")
            .done()
            .err
            .contains("No usual operations yet.")
    );
    workshop.all(&[
        "operation set 'Set in  sleeves' --minutes 1h20 --kind machine",
        "operation set letters --minutes 15m --kind admin",
        "operation set hem --minutes 45m --unbillable",
    ]);
    let row = |name: &str, kind: &str, minutes: i64, billable: bool| json!({"name": name, "kind": kind, "minutes": minutes, "billable": billable});
    let hem = row("hem", "hand", 45, false);
    let all = json!([
        hem,
        row("letters", "admin", 15, false),
        row("Set in sleeves", "machine", 80, true)
    ]);
    assert_eq!(workshop.json("operation list")["operations"], all);
    // What is not given stays.
    assert_eq!(
        workshop.json("operation set HEM --minutes 50m"),
        row("HEM", "hand", 50, false)
    );
    assert_eq!(
        workshop.json("operation set hem --minutes 50m --billable"),
        row("hem", "hand", 50, true)
    );
    workshop.all(&["operation forget LETTERS"]);
    let shown = workshop.run("operation list").done().out;
    assert!(
        shown.contains("1 h 20 min") && !shown.contains("letters"),
        "{shown}"
    );
    assert_eq!(
        workshop.json("history")["bookings"],
        json!([]),
        "settings are not booked"
    );
}

/// Three wool vests of 300, 240 (a batch of 6 in 1 440) and 200 minutes, coats, and one more vest to come.
fn with_history() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan 'wool vest'",
        "work G1 sewing 5h --kind machine",
        "work G1 sewing 1h --kind machine --reason own-mistake",
        "work G1 sewing 30min --kind machine --reason faulty-cloth",
        "work G1 sewing 45min --kind machine --reason customer-change",
        "work G1 Hem 20min --kind hand",
        "garment finish G1",
        "garment plan 'Wool VEST' --count 6",
        "work G2 Sewing 20h --kind machine",
        "work G2 Sewing 4h --kind machine --not-billable",
        "garment finish G2 --good 5 --spoiled 1 --spoilage normal",
        "garment deliver G2",
        "garment plan 'wool vest'",
        "work G3 SEWING 200min --kind machine",
        "work G3 SEWING 99min --kind machine",
        "undo --yes",
        "garment finish G3",
        "garment plan coat",
        "work G4 sewing 15h --kind machine",
        "work G4 hem 40min --kind hand",
        "garment finish G4",
        // Neither finished, nor to be finished.
        "garment plan 'wool vest'",
        "work G5 sewing 1min --kind machine",
        "garment plan 'wool vest'",
        "work G6 sewing 2min --kind machine",
        "garment cancel G6",
        "person set anna --paid",
        "operation set PRESSING --minutes 25m --kind pressing",
        "garment plan 'wool vest' --count 2 --operation 'name=sewing,kind=machine,planned=2h,person=anna' \
         --operation 'name=hem,kind=hand,planned=30min' --operation 'name=pressing,kind=pressing,planned=20min' \
         --operation 'name=buttons,kind=hand,planned=15min'",
    ]);
    workshop
}

fn estimate(operation: &Value) -> Value {
    let fields = [
        "operation",
        "low_minutes",
        "likely_minutes",
        "high_minutes",
        "past",
        "from",
        "certainty",
    ];
    Value::Array(
        fields
            .iter()
            .map(|field| operation[field].clone())
            .collect(),
    )
}

/// By hand: like vests took 200, 240 and 300 minutes; the hems of a vest and a coat 20 and 40, too few for a range; the
/// plan's 15 minutes for two are 7.5 each, rounded up.
#[test]
fn hours_are_estimated_from_like_garments_first_and_marked_where_they_are_not() {
    let workshop = with_history();
    let answer = workshop.json("garment estimate G7");
    let rows: Vec<Value> = answer["operations"]
        .as_array()
        .unwrap()
        .iter()
        .map(estimate)
        .collect();
    assert_eq!(
        rows,
        [
            json!(["sewing", 200, 240, 300, 3, "like-garments", "measured"]),
            json!(["hem", null, 30, null, 2, "all-garments", "measured"]),
            json!([
                "pressing",
                null,
                25,
                null,
                0,
                "usual-operation",
                "estimated"
            ]),
            json!(["buttons", null, 8, null, 0, "plan", "estimated"]),
        ]
    );
    assert_eq!(
        (&answer["likely_minutes"], &answer["batch_minutes"]),
        (&303.into(), &605.into())
    );
    let shown = workshop.run("garment estimate G7").done().out;
    for line in [
        [
            "sewing",
            "3 h 20 min",
            "4 h",
            "5 h",
            "8 h",
            "3 like garments",
        ],
        [
            "hem",
            "",
            "30 min",
            "",
            "1 h",
            "2 of all garments: too few for a range",
        ],
        [
            "pressing",
            "",
            "25 min",
            "",
            "50 min",
            "usual operation, estimated",
        ],
        ["buttons", "", "8 min", "", "15 min", "plan, estimated"],
        ["together", "", "5 h 3 min", "", "10 h 5 min", ""],
    ] {
        let stands =
            |row: &str| row.starts_with(line[0]) && line.iter().all(|cell| row.contains(cell));
        assert!(shown.lines().any(stands), "{line:?}\n{shown}");
    }
    // Of coats there is one: all four count, the middle two are 240 and 300.
    workshop.all(&[
        "garment plan COAT --operation 'name=Sewing,kind=machine,planned=1h'",
        "garment plan cap",
    ]);
    let coat = workshop.json("garment estimate G8");
    assert_eq!(
        estimate(&coat["operations"][0]),
        json!(["Sewing", 200, 270, 900, 4, "all-garments", "measured"])
    );
    // A garment is no experience of its own: one of the three vests has but two like it.
    workshop.all(&["garment plan 'wool vest' --operation 'name=sewing,kind=machine,planned=1h'"]);
    workshop.all(&["work G10 sewing 7h", "garment finish G10"]);
    let own = workshop.json("garment estimate G10");
    assert_eq!(estimate(&own["operations"][0])[2], 240);
    let none = workshop.run("garment estimate G9").done();
    assert!(
        none.out.is_empty() && none.err.contains("The plan of G9 has no operations."),
        "{none:?}"
    );
    workshop.audit();
}

#[test]
fn likely_minutes_are_planned_and_taken_back() {
    let workshop = with_history();
    let planned = || -> Vec<Value> {
        let garment = workshop.json("garment show G7");
        let operations = garment["operations"].as_array().unwrap();
        operations
            .iter()
            .map(|of| json!([of["name"], of["planned_minutes"], of["person"], of["kind"]]))
            .collect()
    };
    let before = planned();
    let id = "0199d000-0000-7000-8000-00000000000b";
    let first = workshop
        .run(&format!("garment estimate G7 --apply --json --id {id}"))
        .done();
    let after = [
        json!(["sewing", 480, "anna", "machine"]),
        json!(["hem", 60, "owner", "hand"]),
        json!(["pressing", 50, "owner", "pressing"]),
        // Nothing is known but the plan, which stays as it is.
        json!(["buttons", 15, "owner", "hand"]),
    ];
    assert_eq!(planned(), after);
    // The same request again: the same answer, though there is nothing left to change.
    let again = workshop
        .run(&format!("garment estimate G7 --apply --json --id {id}"))
        .done();
    assert_eq!(first.out, again.out);
    workshop
        .run(&format!("garment estimate G4 --apply --id {id}"))
        .refused(1, &["already used with another garment"]);
    let dump = workshop.dump();
    let nothing = workshop.run("garment estimate G7 --apply").done();
    assert!(
        nothing
            .err
            .contains("The plan of G7 has these minutes already."),
        "{}",
        nothing.err
    );
    assert_eq!(workshop.dump(), dump);
    workshop.all(&["undo --yes"]);
    assert_eq!(planned(), before);
    let told = workshop.run("garment estimate G7 --apply").done();
    assert!(
        told.err.contains("Planned the likely minutes of G7."),
        "{}",
        told.err
    );
    workshop.all(&["garment finish G7"]);
    assert_eq!(
        workshop.run("garment estimate G4 --apply").done().err,
        "The plan of G4 has no operations.\n"
    );
    workshop.audit();
}

/// By hand: of three vests one is wholly spoiled, so that nothing is known of what a good one takes by it.
#[test]
fn a_wholly_spoiled_batch_is_no_experience() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan vest",
        "work G1 sewing 2h --kind machine",
        "garment finish G1",
        "garment plan vest --count 2",
        "work G2 sewing 20h --kind machine",
        "garment finish G2 --good 0 --spoiled 2 --spoilage own-mistake",
        "garment plan vest --operation 'name=sewing,kind=machine,planned=1h'",
    ]);
    let of = workshop.json("garment estimate G3")["operations"][0].clone();
    assert_eq!(
        (&of["likely_minutes"], &of["past"]),
        (&json!(120), &json!(1))
    );
}

/// Derived: an estimate is of one garment, a typed price of the whole batch, and both say so.
#[test]
fn an_estimate_is_of_one_and_a_typed_price_of_all() {
    let workshop = Workshop::new();
    workshop.all(&[
        "garment plan apron --count 3 --need 'role=shell,kind=cloth,length=1m,width=1m,estimate=40.00'",
        "garment plan coat --need 'role=shell,kind=cloth,length=1m,width=1m,estimate=40.00'",
    ]);
    let line = |garment: &str| workshop.json(&format!("cost {garment}"))["lines"][0].clone();
    assert_eq!(line("G1")["cost"]["planned_printed"], "120.00");
    assert_eq!(
        (&line("G1")["detail"], &line("G2")["detail"]),
        (&json!("estimate, 3 × 40.00"), &json!("estimate"))
    );
    let made = |line: &str| workshop.json(line)["inside"]["costs"][0].clone();
    let typed = made("quote make G1 --markup 0% --material-price shell=40.00");
    assert_eq!(
        (&typed["printed"], &typed["detail"]),
        (&json!("40.00"), &json!("price given for all 3"))
    );
    let typed = made("quote make G2 --markup 0% --material-price shell=40.00");
    assert_eq!(typed["detail"], "price given");
}

/// 1 yd = 0.9144 m exactly (international yard, 1959).
#[test]
fn a_cost_sheet_is_read_in_yards() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --end-allowance 0cm --cutting-step 1mm",
        "buy --line 'material=wool,kind=cloth,full-width=60in,paid=20yd,price=100'",
        "garment plan coat --need 'role=shell,kind=cloth,length=5yd,width=50in,preparation=none'",
        "quote make G1 --markup 0%",
        "quote accept Q1 --version 1 --reserve",
        "cut G1 shell 5yd",
        "cut G1 shell 5yd --from L1.1 --reason own-mistake",
    ]);
    for line in ["cost G1", "quote outcome Q1", "quote show Q1 --inside"] {
        let metric = workshop.run(line).done().out;
        assert!(metric.contains("4.572 m"), "{line}\n{metric}");
        let imperial = workshop.run(&format!("{line} --units imperial")).done().out;
        assert!(
            imperial.contains("5 yd") && !imperial.contains(" m "),
            "{line}\n{imperial}"
        );
    }
}
