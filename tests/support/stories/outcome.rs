//! A jacket that was quoted, and what its outcome says.

use crate::Workshop;
use serde_json::Value;

/// 30.00 and 8.00 an hour: 33 120 and 8 832 over 46 weeks of 40 h, 60 % billable (1 104 h). Wool at 22.00 a metre.
pub fn quoted() -> Workshop {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=wool,kind=cloth,full-width=150cm,paid=6m,price=132' \
             --line 'material=button,kind=trim,paid=12,price=10.20'",
        "workshop figures --pay 33120 --overhead 8832 --weeks 46 --hours 40h --billable 60% --from 2026-01-01",
        "workshop pay-rate bo 15 --paid --from 2026-01-01",
        "garment plan jacket --for 'Anna Muster' \
             --need 'role=shell,kind=cloth,length=2.40m,width=140cm,preparation=none' \
             --need 'role=buttons,kind=trim,count=6' \
             --operation 'name=sewing,kind=machine,planned=7h' \
             --operation 'name=hem,kind=hand,planned=2h,person=bo'",
        "quote make G1 --margin 35%",
    ]);
    workshop
}

pub fn cents(text: &Value) -> i64 {
    text.as_str()
        .map_or(0, |text| text.replace('.', "").parse().unwrap())
}

/// `kind name printed verdict` of each step.
pub fn steps(outcome: &Value) -> Vec<String> {
    let text = |step: &Value, field: &str| step[field].as_str().unwrap_or("-").to_owned();
    let one = |step: &Value| {
        ["kind", "name", "printed", "verdict"]
            .map(|field| text(step, field))
            .join(" ")
    };
    outcome["variances"]
        .as_array()
        .unwrap()
        .iter()
        .map(one)
        .collect()
}

/// Every printed column adds up, and the way leads from quoted to actual.
#[track_caller]
pub fn adds_up(outcome: &Value) {
    let of = |list: &str| outcome[list].as_array().unwrap().clone();
    let apart: i64 = of("apart")
        .iter()
        .map(|apart| cents(&apart["printed"]))
        .sum();
    for (column, apart) in [
        ("planned_printed", 0),
        ("quoted_printed", 0),
        ("actual_printed", apart),
    ] {
        let total = cents(&outcome["total"][column]);
        for list in ["lines", "groups"] {
            let sum: i64 = of(list)
                .iter()
                .map(|line| cents(&line["cost"][column]))
                .sum();
            assert_eq!(sum + apart, total, "{column} of {list}");
        }
    }
    let way: i64 = of("variances")
        .iter()
        .map(|step| cents(&step["printed"]))
        .sum();
    let [quoted, actual] =
        ["quoted_printed", "actual_printed"].map(|column| cents(&outcome["total"][column]));
    assert_eq!(quoted + way, actual);
}
