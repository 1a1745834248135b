//! The house rule: how prices are made where nothing is said.

use crate::Workshop;
use crate::stories::planned;
use serde_json::{Value, json};

const RULE: &str =
    "workshop price-rule --margin 35% --round-up 5 --stage 'deposit=40% of gross' --stage balance";

fn gross(quotation: &Value) -> &Value {
    &quotation["sheet"]["gross"]
}

fn stages(quotation: &Value) -> Vec<&str> {
    let stages = quotation["sheet"]["stages"].as_array().unwrap();
    stages
        .iter()
        .map(|stage| stage["name"].as_str().unwrap())
        .collect()
}

#[test]
fn a_quotation_that_says_nothing_is_made_by_the_house_rule() {
    let workshop = planned();
    let bare = workshop.json("quote make G1");
    assert_eq!(bare["sheet"]["to_be_priced"], json!(["the price"]));
    let said = workshop.json(
        "quote make G1 --margin 35% --round-up 5 --stage 'deposit=40% of gross' --stage balance",
    );
    let set = workshop.json(RULE);
    assert_eq!(
        set["price_rule"]["words"],
        "a margin of 35 %, rounded up to 5"
    );
    let made = workshop.json("quote make G1");
    assert_eq!(gross(&made), gross(&said));
    assert_eq!(stages(&made), ["deposit", "balance"]);
    assert_eq!(
        made["notes"].as_array().unwrap().last().unwrap(),
        "by the house rule: a margin of 35 %, rounded up to 5; its stages"
    );
    // One that was no offer becomes one with its next version.
    let again = workshop.json("quote again Q1");
    assert_eq!(gross(&again), gross(&said));
    workshop.audit();
}

#[test]
fn what_a_quotation_says_goes_before_the_house_rule() {
    let workshop = planned();
    let own = workshop.json("quote make G1 --markup 60% --round-up 5");
    workshop.all(&[RULE]);
    let made = workshop.json("quote make G1 --markup 60% --stage 'at delivery'");
    assert_eq!(gross(&made), gross(&own), "rounded as the house does");
    assert_eq!(stages(&made), ["at delivery"]);
    assert_eq!(made["notes"], json!([]));
    let given = workshop.json("quote make G1 --price 451.13");
    assert_eq!(
        given["sheet"]["net"], "451.13",
        "a given price is the price"
    );
    assert_eq!(stages(&given), ["deposit", "balance"]);
    workshop.audit();
}

/// A version that says nothing new is priced as the one before, whatever the house decided meanwhile.
#[test]
fn a_new_version_of_what_was_priced_stays_as_it_was() {
    let workshop = planned();
    let first = workshop.json("quote make G1 --markup 41%");
    workshop.all(&[RULE]);
    let again = workshop.json("quote again Q1");
    assert_eq!(gross(&again), gross(&first));
    assert_eq!(stages(&again), stages(&first));
    // Priced anew it is rounded as the house does; the stages stay.
    let anew = workshop.json("quote again Q1 --markup 43%");
    assert_eq!(stages(&anew), stages(&first));
    let net = anew["sheet"]["net"].as_str().unwrap();
    assert!(net.ends_with("0.00") || net.ends_with("5.00"), "{net}");
    workshop.audit();
}

#[test]
fn a_rule_that_makes_no_price_is_refused_and_a_forgotten_one_makes_none() {
    let workshop = planned();
    workshop
        .run("workshop price-rule --round-up 5")
        .refused(1, &["give a markup, a margin or an hourly amount"]);
    workshop
        .run("workshop price-rule --margin 100%")
        .refused(1, &["100 %"]);
    workshop
        .run("workshop price-rule --margin 35% --stage 'deposit=40%'")
        .refused(1, &["40% of what?"]);
    workshop
        .run("workshop price-rule --margin 35% --stage 'deposit=40% of gross by 2026-11-01'")
        .refused(1, &["cannot be due on one day"]);
    for share in ["-30%", "130%"] {
        workshop
            .run(&format!("workshop price-rule --margin 35% --stage 'deposit={share} of gross' --stage balance"))
            .refused(1, &["give 0 to 100 %"]);
    }
    workshop
        .run("workshop price-rule --forget")
        .refused(1, &["there is no price rule to forget"]);
    assert_eq!(workshop.json("workshop")["price_rule"], Value::Null);
    workshop.all(&[RULE]);
    let forgotten = workshop.json("workshop price-rule --forget");
    assert_eq!(forgotten["price_rule"], Value::Null);
    let made = workshop.json("quote make G1");
    assert_eq!(made["sheet"]["to_be_priced"], json!(["the price"]));
    workshop.audit();
}

/// A supplement is priced as it was agreed.
#[test]
fn a_supplement_keeps_to_what_was_agreed() {
    let supplement = |rule: &str| {
        let workshop: Workshop = planned();
        workshop.all(&[
            "quote make G1 --markup 50%",
            "quote accept Q1 --version 1",
            "garment edit G1 --operation 'name=hem,kind=hand,planned=4h'",
        ]);
        if !rule.is_empty() {
            workshop.all(&[rule]);
        }
        gross(&workshop.json("quote make G1 --supplement-to Q1")).clone()
    };
    assert_eq!(supplement(RULE), supplement(""));
}
