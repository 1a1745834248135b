//! `ellwand garment estimate`: how long a garment is likely to take.

use crate::Workshop;
use serde_json::{Value, json};

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
            .contains("The plan of G7 already has these minutes."),
        "{}",
        nothing.err
    );
    assert_eq!(workshop.dump(), dump);
    workshop.all(&["undo --yes"]);
    assert_eq!(planned(), before);
    let report = workshop.run("garment estimate G7 --apply").done();
    assert!(
        report.err.contains("Planned the likely minutes of G7."),
        "{}",
        report.err
    );
    workshop.all(&["garment finish G7 --really"]);
    assert_eq!(
        workshop.run("garment estimate G4 --apply").done().err,
        "The plan of G4 has no operations.\n"
    );
    workshop.audit();
}
