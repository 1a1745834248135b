//! What README promises of `--json`, read off the answers of a book in which something of everything has happened.

use crate::books::{environment, run_in};
use serde_json::Value;
use tempfile::TempDir;

const README: &str = include_str!("../../README.md");

const BOOK: &[&str] = &[
    "workshop set --currency EUR --zone Europe/Vienna",
    "workshop pay-rate owner 24.00",
    "workshop overhead --amount 9600 --hours 1500h",
    "buy --supplier Stall --currency GBP --rate 1.17 --line 'material=wool,kind=cloth,paid=4m,price=88,full-width=150cm,mass=300gsm,shrinkage=4%/2%' \
     --line 'material=silk,kind=thread,paid=2 reels,price=9,reel-length=500m' --line 'material=button,kind=trim,paid=12,price=6,size=18L' --charge 'freight=12,by=value' --really",
    "garment plan coat --for Ada --need 'role=shell,kind=cloth,length=1.5m,width=140cm,preparation=none' --need 'role=thread,kind=thread,seams=yes' \
     --need 'role=buttons,kind=trim,count=4' --seam 'name=side seam,length=62cm,stitch=301,per-cm=4,thickness=0.8mm' --operation 'name=sewing,kind=hand,planned=5h30'",
    "quote make G1 --margin 35%",
    "reserve G1 shell --from L1.1",
    "cut G1 shell",
    "work G1 sewing 5h45",
];

const ASKED: &[&str] = &[
    "shelf",
    "lot show L1",
    "lot show L2",
    "lot show L3",
    "garment show G1",
    "garment list",
    "garment seams G1",
    "garment promises G1",
    "garment estimate G1",
    "candidates G1",
    "cost G1",
    "quote show Q1",
    "quote list",
    "buy list",
    "buy show P1",
    "material list",
    "history",
    "history B5",
    "month",
    "workshop",
    "person list",
    "customer list",
    "supplier list",
    "operation list",
    "audit",
    "whoami",
];

/// Calls `check` with every value of an answer and its field's name.
fn each(name: &str, value: &Value, check: &mut dyn FnMut(&str, &Value)) {
    check(name, value);
    match value {
        Value::Object(fields) => fields
            .iter()
            .for_each(|(name, value)| each(name, value, check)),
        Value::Array(all) => all.iter().for_each(|value| each(name, value, check)),
        _ => {}
    }
}

fn is_decimal(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    [whole, part]
        .iter()
        .all(|part| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit()))
}

/// README lists the endings of names with their units: `` `_m` metres ``.
fn endings() -> Vec<String> {
    let (_, rest) = README
        .split_once("**What is stable in `--json`.**")
        .unwrap();
    let (_, list) = rest.split_once("ends in its unit: ").unwrap();
    let (list, _) = list.split_once(". ").unwrap();
    let quoted = list.split('`').skip(1).step_by(2);
    quoted
        .filter(|part| part.starts_with('_'))
        .map(str::to_owned)
        .collect()
}

#[test]
fn quantities_are_decimal_strings_in_the_unit_of_their_name_and_no_number_has_a_fraction() {
    let folder = TempDir::new().unwrap();
    let here = environment(folder.path());
    for line in BOOK {
        let _ = run_in(&here, line).done();
    }
    let endings = endings();
    assert!(endings.len() >= 4, "{endings:?}");
    let (mut seen, mut wrong) = (Vec::new(), Vec::new());
    for line in ASKED {
        let answer = run_in(&here, &format!("{line} --json")).done().out;
        let answer: Value = serde_json::from_str(&answer).unwrap();
        each("", &answer, &mut |name, value| {
            if value.is_f64() {
                wrong.push(format!("{line}: {name} is {value}"));
            }
            let ending = endings
                .iter()
                .find(|ending| name.ends_with(ending.as_str()));
            match (ending, value) {
                (Some(ending), Value::String(text)) if is_decimal(text) => {
                    seen.push(ending.clone())
                }
                (Some(_), Value::Null) | (None, _) => {}
                (Some(_), other) => wrong.push(format!("{line}: {name} is {other}")),
            }
            if name.ends_with("_minutes") && !(value.is_i64() || value.is_null()) {
                wrong.push(format!("{line}: {name} is {value}"));
            }
        });
    }
    assert_eq!(wrong, Vec::<String>::new());
    for ending in endings
        .iter()
        .filter(|ending| ["_m", "_gsm", "_percent"].contains(&ending.as_str()))
    {
        assert!(seen.contains(ending), "no answer has a value in {ending}");
    }
    // A refusal is a problem with a stable type, on stderr, and its exit code.
    let refused = run_in(&here, "garment show G9 --json");
    assert_eq!((refused.code, refused.out.as_str()), (1, ""));
    let problem: Value = serde_json::from_str(&refused.err).unwrap();
    assert_eq!(
        (&problem["type"], &problem["status"]),
        (&"not-found".into(), &404.into())
    );
}
