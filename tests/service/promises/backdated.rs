//! Promises that are booked for an earlier day do not jump the queue.

use crate::book::{TestBook, ask};
use ellwand_contract::{
    garments::PlanGarment, lots::MeasurePiece, purchases::Buy, reservations::Reserve,
};
use serde_json::json;

/// Design, section 4, rule 6: what still fits stays by due date, then by the day that it was promised on. By hand: 1.96 m and
/// 4 cm for its ends are 2.00 m each, so two promises hold 4.00 m of 5.00 m; of 3.00 m only one of them still fits. R1 was
/// booked on the 12th, R2 on the 13th for the 11th: R1 was there first.
#[test]
fn a_promise_ranks_by_the_day_it_was_booked_on() {
    let book = TestBook::new();
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    let line = json!([{"material": linen, "paid": "5m", "price": "40"}]);
    book.ask::<Buy>(json!({"date": "2026-10-05", "line": line}))
        .unwrap();
    let need = json!([{"role": "shell", "kind": "cloth", "length": "1.96m", "width": "1m", "preparation": "none"}]);
    for name in ["vest", "skirt"] {
        book.ask::<PlanGarment>(json!({"name": name, "need": need}))
            .unwrap();
    }
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    book.ask::<Reserve>(json!({"garment": "G1", "picks": picks}))
        .unwrap();
    let next_day = book.handle(1);
    let backdated = json!({"garment": "G2", "picks": picks, "date": "2026-10-11"});
    ask::<Reserve>(&next_day, backdated).unwrap();
    let measured = ask::<MeasurePiece>(
        &next_day,
        json!({"piece": "L1.1", "found": "3m", "really": true}),
    )
    .unwrap();
    let broken: Vec<String> = measured
        .broken
        .iter()
        .map(|promise| promise.reservation.to_string())
        .collect();
    assert_eq!(broken, ["R2"]);
    book.audit();
}
