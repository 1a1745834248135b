//! What is set stands in the history and is taken back like a booking: settings, rates, usual operations, edits of records.

use crate::{Workshop, book::TestBook};
use ellwand_contract::{
    ProblemType,
    bookings::Undo,
    operations::{ListOperations, SetOperation},
    workshop::{SetPayRate, SetWorkshop},
};
use ellwand_domain::setting::{Grant, Role};
use ellwand_service::Caller;
use serde_json::{Value, json};

/// All that can be set, without the version, which goes on.
fn settings(workshop: &Workshop) -> Vec<Value> {
    let mut shown = workshop.json("workshop");
    shown.as_object_mut().unwrap().remove("version").unwrap();
    let mut seen = vec![shown];
    for line in [
        "workshop figures",
        "workshop spent --from 2026-09-01 --to 2026-09-30",
        "customer list",
        "supplier list",
        "material list",
        "operation list",
        "person show bo",
    ] {
        seen.push(workshop.json(line));
    }
    seen
}

fn last(workshop: &Workshop) -> Value {
    workshop.json("history --limit 1")["bookings"][0].clone()
}

#[test]
fn each_act_that_sets_something_is_booked_and_taken_back_to_what_was_there() {
    let workshop = Workshop::new();
    let buy =
        "buy --supplier Stall --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'";
    workshop.all(&[buy, "garment plan vest --for Ada", "person set bo --paid"]);
    // First over nothing, then over what the first ones set.
    let first = [
        ("workshop set --cutting-step 1cm", "Set the cutting step."),
        (
            "workshop set --zone Europe/Vienna --name 'Quill & Son'",
            "Set the head of sheets, the time zone.",
        ),
        (
            "workshop pay-rate owner 24 --from 2026-09-01",
            "Set the pay rate of owner from 2026-09-01.",
        ),
        (
            "workshop pay-rate bo 18 --kind hand --from 2026-09-01",
            "Set the pay rate of bo for hand work from 2026-09-01.",
        ),
        (
            "workshop overhead 6.50 --from 2026-09-01",
            "Set the overhead rate from 2026-09-01.",
        ),
        ("workshop tax VAT 20%", "Set the tax VAT."),
        (
            "workshop tax-reclaim no --from 2026-09-01",
            "Set the reclaiming of tax from 2026-09-01.",
        ),
        ("workshop price-rule --margin 35%", "Set the price rule."),
        (
            "workshop spent --from 2026-09-01 --to 2026-09-30 --overhead 500",
            "Set the overhead spent from 2026-09-01 to 2026-09-30.",
        ),
        (
            "workshop figures --pay 30000 --overhead 7176 --weeks 46 --hours 40h --billable 60% --from 2026-09-02",
            "Set the overhead rate from 2026-09-02, the year's figures from 2026-09-02.",
        ),
        ("person set bo --own", "Set the mark of bo as own or paid."),
        (
            "supplier edit S1 --name Barn --note 'open on Thursdays'",
            "Edited the name and the note of S1.",
        ),
        (
            "customer edit C1 --name 'Ada Quill'",
            "Edited the name of C1.",
        ),
        (
            "material edit M1 --name 'fine linen' --least 2m --colour navy",
            "Edited the colour and the name and the least level of M1.",
        ),
        (
            "operation set hem --minutes 20m",
            "Set the usual operation hem.",
        ),
    ];
    let second = [
        (
            "workshop set --cutting-step 2cm --prices with-tax",
            "Set the cutting step, the prices shown.",
        ),
        (
            "workshop pay-rate owner 25",
            "Set the pay rate of owner from 2026-10-12.",
        ),
        (
            "workshop pay-rate bo 19 --kind hand --from 2026-09-01",
            "Set the pay rate of bo for hand work from 2026-09-01.",
        ),
        (
            "workshop overhead 7 --from 2026-09-01",
            "Set the overhead rate from 2026-09-01.",
        ),
        ("workshop tax VAT 10%", "Set the tax VAT."),
        ("workshop tax VAT --forget", "Removed the tax VAT."),
        ("workshop price-rule --margin 40%", "Set the price rule."),
        (
            "workshop spent --from 2026-09-01 --to 2026-09-30 --overhead 600",
            "Set the overhead spent from 2026-09-01 to 2026-09-30.",
        ),
        ("person set bo --paid", "Set the mark of bo as own or paid."),
        ("supplier edit S1 --note ''", "Edited the note of S1."),
        ("customer edit C1 --name Ada", "Edited the name of C1."),
        (
            "material edit M1 --least none",
            "Edited the least level of M1.",
        ),
        (
            "operation set hem --minutes 25m",
            "Set the usual operation hem.",
        ),
        ("operation forget hem", "Removed the usual operation hem."),
    ];
    for lines in [first.as_slice(), second.as_slice()] {
        for (line, said) in lines {
            booked_and_taken_back(&workshop, line, said);
        }
        lines.iter().for_each(|(line, _)| workshop.all(&[line]));
    }
}

#[track_caller]
fn booked_and_taken_back(workshop: &Workshop, line: &str, said: &str) {
    let before = settings(workshop);
    workshop.all(&[line]);
    let (booked, changed) = (last(workshop), settings(workshop));
    assert_eq!(booked["summary"], said);
    assert_ne!(changed, before, "{line}");
    if !line.contains("forget") {
        workshop.all(&[line]);
        assert_eq!(last(workshop), booked, "the same again is no booking");
        assert_eq!(settings(workshop), changed);
    }
    workshop.all(&["undo"]);
    assert_eq!(settings(workshop), before, "{line}");
    workshop.audit();
}

/// The last thing that was done is offered, not the delivery before it.
#[test]
fn a_mistyped_rate_is_what_undo_takes_back() {
    let workshop = Workshop::new();
    let buy = "buy --line 'material=linen,kind=cloth,paid=4m,price=40,full-width=150cm'";
    workshop.all(&[
        "workshop pay-rate owner 24",
        buy,
        "workshop pay-rate owner 240",
    ]);
    let undone = workshop.json("undo");
    assert_eq!(undone["bookings"][0]["undoes"], "B3");
    let rates = workshop.json("workshop")["pay_rates"].clone();
    assert_eq!(rates.as_array().unwrap().len(), 1);
    assert_eq!(rates[0]["per_hour"], "24.00");
    assert_eq!(workshop.json("shelf")["pieces"][0]["value"], "40");
}

#[test]
fn what_was_set_again_since_and_what_closed_books_hold_stays() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --cutting-step 1cm --zone Europe/Vienna",
        "workshop set --cutting-step 2cm",
        "workshop pay-rate owner 24 --from 2026-09-01",
        "workshop close 2026-09-30 --yes",
        "person set bo --paid",
    ]);
    let before = settings(&workshop);
    workshop
        .run("undo B1")
        .refused(1, &["the cutting step has been set again since, by B2"]);
    workshop.run("undo B3").refused(
        1,
        &["closed up to 2026-09-30", "set it anew from a later day on"],
    );
    assert_eq!(settings(&workshop), before);
    workshop.all(&["undo B2", "undo B1", "undo B4", "undo B3"]);
    workshop.audit();
}

/// 1 h at 24.00; the rate of the garment that was finished by it stays.
#[test]
fn a_rate_stays_by_which_a_garment_was_finished() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop pay-rate owner 20",
        "garment plan vest --operation 'name=sewing,kind=machine,planned=1h'",
        "work G1 sewing 1h",
        "workshop pay-rate owner 24",
        "garment finish G1 --really",
    ]);
    workshop.run("undo B4").refused(
        1,
        &["G1 was finished since, and its cost rests on that rate"],
    );
    assert_eq!(workshop.json("cost G1")["all"]["actual_printed"], "24.00");
    workshop.all(&["undo B5", "undo B4"]);
    assert_eq!(workshop.json("cost G1")["all"]["actual_printed"], "20.00");
}

#[test]
fn what_is_fixed_since_and_whoever_was_named_stays() {
    let workshop = Workshop::new();
    workshop.all(&[
        "workshop set --currency CHF",
        "workshop set --cash-step 0.05",
    ]);
    workshop
        .run("undo B1")
        .refused(1, &["the step of cash is set in CHF"]);
    workshop.all(&["undo B2", "undo B1"]);
    let workshop = Workshop::new();
    let buy = "buy --line 'material=silk,kind=thread,paid=9m,price=1'";
    workshop.all(&["workshop set --currency GBP --pooled-method average", buy]);
    workshop
        .run("undo B1")
        .refused(1, &["the currency is fixed"]);
    workshop.all(&["person set bo --paid"]);
    workshop.run("undo B3").refused(
        1,
        &["B3 named someone new, who stays", "ellwand person set"],
    );
    assert_eq!(last(&workshop)["summary"], "Named bo.");
    // A rate that names someone is taken back, and they stay.
    workshop.all(&["workshop pay-rate anna 15 --paid"]);
    assert_eq!(
        last(&workshop)["summary"],
        "Set the pay rate of anna from the beginning."
    );
    workshop.all(&["undo"]);
    assert_eq!(workshop.json("workshop")["pay_rates"], json!([]));
    assert_eq!(workshop.json("person show anna")["paid"], true);
}

/// A name that another material has by now stays with that one.
#[test]
fn a_material_keeps_its_name_where_another_has_the_former_one() {
    let workshop = Workshop::new();
    workshop.all(&[
        "buy --line 'material=braid,kind=trim,unit=length,paid=5m,price=5'",
        "material edit M1 --name ribbon",
        "buy --line 'material=braid,kind=trim,unit=length,paid=5m,price=5'",
    ]);
    let before = workshop.dump();
    workshop
        .run("undo B2")
        .refused(1, &["trim \"braid\" already exists: M2"]);
    assert_eq!(workshop.dump(), before);
    workshop.audit();
}

/// Whoever may not set it may not take it back either.
#[test]
fn taking_back_needs_the_right_of_setting() {
    let book = TestBook::new();
    let handle = book.handle(0);
    book.ask::<SetPayRate>(json!({"person": "owner", "per_hour": "24"}))
        .unwrap();
    book.ask::<SetWorkshop>(json!({"cutting_step": "1cm"}))
        .unwrap();
    book.ask::<SetOperation>(json!({"name": "hem", "minutes": "20m"}))
        .unwrap();
    let undo = |role, grants: &[Grant], booking: &str| {
        let mut caller = Caller::owner("bo");
        (caller.role, caller.grants) = (role, grants.to_vec());
        let act: Undo =
            serde_json::from_value(json!({"id": uuid::Uuid::now_v7(), "booking": booking}))
                .unwrap();
        handle.call(&caller, &act).map(|outcome| outcome.answer)
    };
    for (role, grants, booking) in [
        (Role::Maker, [].as_slice(), "B1"),
        (Role::Maker, &[Grant::Settings], "B1"),
        (Role::Maker, &[Grant::PayRates], "B2"),
        (Role::Apprentice, &[], "B3"),
        (Role::Viewer, &[Grant::PayRates, Grant::Settings], "B1"),
    ] {
        let refused = undo(role, grants, booking).unwrap_err();
        assert_eq!(refused.kind, ProblemType::NotAllowed, "{role}: {booking}");
    }
    undo(Role::Maker, &[Grant::PayRates], "B1").unwrap();
    undo(Role::Maker, &[Grant::Settings], "B2").unwrap();
    undo(Role::Maker, &[], "B3").unwrap();
    assert!(
        book.ask::<ListOperations>(json!({}))
            .unwrap()
            .operations
            .is_empty()
    );
    book.audit();
}
