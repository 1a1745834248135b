//! How long a garment is likely to take, from a long history.

use crate::book::TestBook;
use ellwand_contract::{
    garments::{FinishGarment, PlanGarment},
    operations::GetEstimates,
    work::LogWork,
};
use serde_json::{Value, json};

fn made(book: &TestBook, name: &str, time: &str) {
    let code: Value = json!(
        book.ask::<PlanGarment>(json!({"name": name}))
            .unwrap()
            .garment
    );
    let work = json!({"garment": code, "operation": "sewing", "kind": "machine", "time": time});
    book.ask::<LogWork>(work).unwrap();
    book.ask::<FinishGarment>(json!({"garment": code, "really": true}))
        .unwrap();
}

/// Low, likely, high and the number of garments of a new garment's sewing.
fn sewing(book: &TestBook, name: &str) -> (Option<i64>, i64, Option<i64>, i64) {
    let sewing = json!([{"name": "sewing", "kind": "machine", "planned": "1h"}]);
    let plan = book
        .ask::<PlanGarment>(json!({"name": name, "operation": sewing}))
        .unwrap();
    let answer = book
        .ask::<GetEstimates>(json!({"garment": plan.garment}))
        .unwrap();
    let of = &answer.operations[0];
    (of.low_minutes, of.likely_minutes, of.high_minutes, of.past)
}

/// By hand: of 51 garments the first, which took 1 minute, is one too old; of the other 50 the middle two took 100.
#[test]
fn the_newest_fifty_garments_count() {
    let book = TestBook::new();
    for time in ["1min", "60min"].into_iter().chain(["100min"; 48]) {
        made(&book, "vest", time);
    }
    assert_eq!(
        sewing(&book, "vest"),
        (Some(1), 100, Some(100), 50),
        "fifty are looked at"
    );
    made(&book, "vest", "200min");
    let newest = (Some(60), 100, Some(200), 50);
    assert_eq!(sewing(&book, "vest"), newest, "and no more");
    // The same for a garment that has none like it.
    assert_eq!(sewing(&book, "coat"), newest);
}

/// Three like garments count alone, two do not.
#[test]
fn like_garments_count_alone_from_three_on() {
    let book = TestBook::new();
    for (name, time) in [("coat", "900min"), ("vest", "100min"), ("vest", "120min")] {
        made(&book, name, time);
    }
    // By hand: the middle one of 100, 120 and 900.
    assert_eq!(sewing(&book, "vest"), (Some(100), 120, Some(900), 3));
    made(&book, "VEST", "130min");
    assert_eq!(sewing(&book, "vest"), (Some(100), 120, Some(130), 3));
}
