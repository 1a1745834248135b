//! `ellwand person`: whose hours they are, what they cost, and who may log them.

use crate::Workshop;
use crate::login::{Door, plain};
use ellwand::Environment;
use ellwand_contract::{ProblemType, people::CreateToken};
use ellwand_domain::setting::{Grant, Role};
use ellwand_service::{Caller, Secret};
use serde_json::{Value, json};
use uuid::Uuid;

const VEST: &str = "garment plan vest --operation 'name=cutting,kind=cutting,planned=3h,person=stitcher' \
    --operation 'name=sewing,kind=machine,planned=1h25'";

fn json_in(door: &Door, person: &Environment, line: &str) -> Value {
    serde_json::from_str(&door.run_in(person, &format!("{line} --json")).done().out).unwrap()
}

/// 3 h at 21.00 and 1 h 25 at 17.00: 63.00 + 24.08 = 87.08 (derived; all at the owner's 24.00 would be 106.00).
#[test]
fn hours_are_those_of_whoever_logs_them() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let (cutter, stitcher) = (
        door.person("cutter", Role::Maker, &[]),
        door.person("stitcher", Role::Maker, &[]),
    );
    for line in [
        "workshop pay-rate owner 24",
        "workshop pay-rate cutter 21 --paid",
        "workshop pay-rate stitcher 17 --paid",
        VEST,
    ] {
        let _ = door.run_in(&owner, line).done();
    }
    let report = json_in(&door, &cutter, "work G1 cutting 3h");
    assert_eq!(
        (&report["person"], &report["per_hour"]),
        (&json!("cutter"), &Value::Null),
        "a maker sees no rates"
    );
    let report = door.run_in(&stitcher, "work G1 sewing 1h25").done();
    assert!(
        report
            .err
            .contains("Logged 1 h 25 min of sewing on G1 by stitcher."),
        "{}",
        report.err
    );
    let sheet = json_in(&door, &owner, "cost G1");
    assert_eq!(sheet["all"]["actual_printed"], "87.08");
    let priced = json_in(&door, &owner, "quote make G1 --from actual --markup 0%");
    assert_eq!(priced["sheet"]["net"], "87.08");
    // The plan's person is still the plan's.
    let plan = json_in(&door, &owner, "garment show G1");
    assert_eq!(plan["operations"][0]["person"], "stitcher");
}

#[test]
fn the_hours_of_others_are_for_those_who_set_pay_rates() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let maker = door.person("mo", Role::Maker, &[]);
    let trusted = door.person("tru", Role::Maker, &[Grant::PayRates]);
    for line in ["workshop pay-rate stitcher 17 --paid", VEST] {
        let _ = door.run_in(&owner, line).done();
    }
    let needs = ["mo is a maker", "the grant pay-rates"];
    door.run_in(&maker, "work G1 sewing 1h --person stitcher")
        .refused(4, &needs);
    let _ = door.run_in(&maker, "work G1 sewing 1h --person MO").done();
    let report = json_in(&door, &trusted, "work G1 sewing 1h --person Stitcher");
    assert_eq!(
        (&report["person"], &report["per_hour"], &report["paid"]),
        (&json!("stitcher"), &json!("17.00"), &json!(true))
    );
    let history = door.run_in(&owner, "history").done().out;
    assert!(
        history.contains("Worked 1 h on sewing of G1 vest by stitcher."),
        "{history}"
    );
    door.run_in(&maker, "undo B7 --yes").refused(4, &needs);
    let _ = door.run_in(&trusted, "undo B7 --yes").done();
    let _ = door.run_in(&maker, "undo B6 --yes").done();
    door.run_in(&owner, "work G1 sewing 1h --person sticher")
        .refused(1, &["sticher", "did you mean stitcher?"]);
    door.run_in(&owner, "work G1 sewing 1h --person zzz")
        .refused(1, &["zzz", "ellwand person set NAME"]);
    door.run_in(
        &owner,
        "garment plan cap --operation 'name=hem,kind=hand,planned=1h,person=sticher'",
    )
    .refused(1, &["did you mean stitcher?"]);
}

/// Own hours without a rate take the owner's, else the year's figures: 30 000.00 over 46 weeks of 40 h at 60 %, 27.17 an hour
/// (costing.md, d-7). A paid person without a rate is not priced.
#[test]
fn a_co_owners_hours_count_as_own_ones() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let (partner, maker) = (
        door.person("Marte", Role::Owner, &[]),
        door.person("mo", Role::Maker, &[]),
    );
    let figures = "workshop figures --pay 30000 --overhead 0 --weeks 46 --hours 40h --billable 60%";
    for line in [figures, "person set stitcher --paid", VEST] {
        let _ = door.run_in(&owner, line).done();
    }
    let report = json_in(&door, &partner, "work G1 sewing 1h");
    assert_eq!(
        (&report["person"], &report["per_hour"], &report["notes"]),
        (&json!("Marte"), &json!("27.173913"), &json!([]))
    );
    let net = || {
        json_in(&door, &owner, "quote make G1 --from actual --markup 0%")["sheet"]["net"].clone()
    };
    assert_eq!(net(), "27.17");
    let _ = door.run_in(&owner, "workshop pay-rate owner 24").done();
    assert_eq!(
        json_in(&door, &partner, "work G1 sewing 1h")["per_hour"],
        "24.00"
    );
    let _ = door.run_in(&owner, "workshop pay-rate marte 30").done();
    assert_eq!(
        json_in(&door, &partner, "work G1 sewing 1h")["per_hour"],
        "30.00"
    );
    let report = json_in(&door, &maker, "work G1 sewing 1h");
    assert!(
        report["notes"].to_string().contains("mo has no pay rate"),
        "{report}"
    );
    let people = json_in(&door, &owner, "person list");
    let marks: Vec<(&str, bool)> = people["people"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| {
            (
                row["person"].as_str().unwrap(),
                row["paid"].as_bool().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        marks,
        [
            ("Marte", false),
            ("mo", true),
            ("owner", false),
            ("stitcher", true)
        ]
    );
}

/// Letters that look alike and those that are not seen: Unicode Technical Standard 39, section 4.
#[test]
fn a_name_that_looks_like_somebodys_is_refused() {
    let workshop = Workshop::new();
    workshop.all(&["workshop pay-rate owner 24", "person set anna --paid"]);
    for name in [
        "own\u{200b}er",
        "ow\u{ad}ner",
        "\u{43e}wn\u{435}r",
        "0wner",
        "OWN\u{415}R",
        "\u{430}nn\u{430}",
    ] {
        workshop
            .run(&format!("person set '{name}' --paid"))
            .refused(1, &["looks like"]);
        workshop
            .run(&format!("workshop pay-rate '{name}' 30"))
            .refused(1, &["looks like"]);
    }
    workshop
        .run("person set Owner --paid")
        .refused(1, &["the owner is never paid wages"]);
    assert_eq!(workshop.json("person set ANNA --own")["person"], "anna");
    assert_eq!(workshop.json("person show Anna")["paid"], false);
    workshop
        .run("person show ana")
        .refused(1, &["did you mean anna?"]);
    let people = workshop.json("person list");
    let names: Vec<&Value> = people["people"]
        .as_array()
        .unwrap()
        .iter()
        .map(|row| &row["person"])
        .collect();
    assert_eq!(names, ["anna", "owner"]);
    let shown = workshop.run("person list").done().out;
    assert!(shown.contains("24.00 from the beginning"), "{shown}");
}

/// Another token of a name is for that person alone, and each takes back what they booked themselves.
#[test]
fn a_second_token_is_for_the_same_person() {
    let door = Door::new(plain);
    let owner = door.person("owner", Role::Owner, &[]);
    let _ = door.person("anna", Role::Maker, &[]);
    let again = |person: &str, same_person: bool| {
        let (grants, hash) = (Vec::new(), Secret::make().unwrap().hash());
        let (id, person) = (Uuid::now_v7(), person.to_owned());
        let request = CreateToken {
            id,
            person,
            role: Role::Maker,
            grants,
            hash,
            label: None,
            until: None,
            same_person,
        };
        door.book.call(&Caller::owner("owner"), &request)
    };
    let refused = again("Anna", false).unwrap_err();
    assert_eq!(refused.kind, ProblemType::AlreadyExists);
    assert!(
        refused.detail.contains("T2 is a token of anna"),
        "{}",
        refused.detail
    );
    assert_eq!(again("Anna", true).unwrap().answer.person, "anna");
    assert!(
        again("\u{430}nna", true)
            .unwrap_err()
            .detail
            .contains("looks like anna")
    );
    let _ = door.run_in(&owner, "garment plan vest").done();
    door.run_in(&door.person("bo", Role::Maker, &[]), "undo --yes")
        .refused(1, &["booking by bo"]);
}

/// Without a day the first rate holds from the beginning, so that last week's work is priced: 10 h 30 at 24.00 and overhead at
/// 6.50 are 252.00 + 68.25 (costing.md, c-16); a later one counts from today, and none reaches into closed books.
#[test]
fn a_first_rate_without_a_day_holds_from_the_beginning() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 24",
        "workshop overhead 6.50",
        "garment plan shirt --operation 'name=sewing,kind=machine,planned=9h'",
        "work G1 sewing 10h30 --date 2026-10-05",
    ]);
    assert_eq!(workshop.json("cost G1")["all"]["actual_printed"], "320.25");
    workshop.all(&["workshop pay-rate owner 30", "workshop overhead 7"]);
    assert_eq!(workshop.json("cost G1")["all"]["actual_printed"], "320.25");
    let days = |list: &str| -> Vec<Value> {
        let rates = workshop.json("workshop")[list].clone();
        rates
            .as_array()
            .unwrap()
            .iter()
            .map(|rate| rate["from"].clone())
            .collect()
    };
    assert_eq!(days("pay_rates"), ["2026-10-12", "0001-01-01"]);
    assert_eq!(days("overhead_rates"), ["2026-10-12", "0001-01-01"]);
    let shown = workshop.run("workshop").done().out;
    assert!(
        shown.contains("the beginning") && !shown.contains("0001"),
        "{shown}"
    );
    workshop.all(&[
        "workshop close 2026-10-10 --yes",
        "workshop pay-rate anna 15 --paid",
    ]);
    assert_eq!(
        workshop.json("person show anna")["pay_rates"][0]["from"],
        "2026-10-11"
    );
    workshop.all(&[
        "workshop pay-rate bo 15 --paid --from 2026-10-12",
        "workshop pay-rate bo --forget",
    ]);
    let _ = workshop.run("workshop pay-rate owner --forget").done();
}

/// Hours without a rate are not zero: what they are part of is no total (how this program decides; no outside source).
#[test]
fn a_cost_whose_hours_have_no_rate_is_no_total() {
    let workshop = Workshop::new();
    workshop.all(&[
        "person set bo --paid",
        "person set cy --paid",
        "workshop pay-rate owner 24",
        "garment plan vest --operation 'name=sewing,kind=machine,planned=2h' \
         --operation 'name=hem,kind=hand,planned=1h,person=bo'",
        "work G1 sewing 2h",
    ]);
    let report = workshop.json("quote make G1 --markup 40%");
    assert_eq!(
        report["inside"]["not_priced"],
        json!(["hem: bo has no pay rate"])
    );
    workshop.run("quote accept Q1 --version 1").refused(
        1,
        &[
            "version 1 of Q1 is not an offer yet",
            "not priced: hem",
            "ellwand workshop pay-rate",
        ],
    );
    let sheet = workshop.json("cost G1");
    assert_eq!(
        (&sheet["all"]["planned"], &sheet["all"]["planned_printed"]),
        (&Value::Null, &Value::Null)
    );
    assert_eq!(
        (&sheet["all"]["actual_printed"], &sheet["job"]["planned"]),
        (&json!("48.00"), &Value::Null)
    );
    assert_eq!(
        (
            &sheet["lines"][0]["cost"]["planned_printed"],
            &sheet["bridge"]
        ),
        (&json!("48.00"), &json!([]))
    );
    // Planned for bo, who has a rate by now, and worked by cy, who has none.
    workshop.all(&[
        "workshop pay-rate bo 15",
        "quote again Q1",
        "quote accept Q1 --version 2",
        "work G1 hem 1h --person cy",
    ]);
    let sheet = workshop.json("cost G1");
    assert_eq!(
        (
            &sheet["all"]["actual"],
            &sheet["lines"][1]["cost"]["actual"]
        ),
        (&Value::Null, &Value::Null)
    );
    let shown = workshop.run("cost G1").done().out;
    assert!(shown.contains("not priced"), "{shown}");
    let outcome = workshop.json("quote outcome Q1");
    assert_eq!(
        (
            &outcome["total"]["actual_printed"],
            &outcome["price"]["profit"]
        ),
        (&Value::Null, &Value::Null)
    );
    assert!(
        workshop
            .run("quote outcome Q1")
            .done()
            .out
            .contains("not priced")
    );
    // With a rate there are totals: 48.00 and 15.00.
    workshop.all(&["workshop pay-rate cy 15"]);
    let sheet = workshop.json("cost G1");
    assert_eq!(
        (
            &sheet["all"]["planned_printed"],
            &sheet["all"]["actual_printed"]
        ),
        (&json!("63.00"), &json!("63.00"))
    );
}
