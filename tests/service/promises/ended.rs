//! A garment whose promises were made and given back many times.

use crate::book::TestBook;
use ellwand_contract::{
    garments::{GetGarment, PlanGarment},
    purchases::Buy,
    reservations::{ListReservations, Release, Reserve},
};
use ellwand_domain::setting::ReservationState;
use serde_json::json;

/// What ended long ago is counted and read page by page, and does not come with the garment.
#[test]
fn ended_promises_are_paged_and_the_newest_come_with_the_garment() {
    let book = TestBook::new();
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    book.ask::<Buy>(json!({"line": [{"material": linen, "paid": "4m", "price": "40"}]}))
        .unwrap();
    let need = json!([{"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"}]);
    book.ask::<PlanGarment>(json!({"name": "vest", "need": need}))
        .unwrap();
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    for number in 1..=45 {
        book.ask::<Reserve>(json!({"garment": "G1", "picks": picks}))
            .unwrap();
        book.ask::<Release>(json!({"reservations": [format!("R{number}")]}))
            .unwrap();
    }
    book.ask::<Reserve>(json!({"garment": "G1", "picks": picks}))
        .unwrap();
    let garment = book.ask::<GetGarment>(json!({"garment": "G1"})).unwrap();
    let shown = &garment.needs[0].reservations;
    assert_eq!(
        (shown.len(), garment.more_ended),
        (21, 25),
        "20 of 45 that ended"
    );
    let newest = shown.last().unwrap();
    assert_eq!(
        (newest.state, newest.reservation.to_string().as_str()),
        (ReservationState::Active, "R46")
    );
    assert_eq!(shown[0].reservation.to_string(), "R26");
    let (mut all, mut after) = (Vec::new(), None::<String>);
    loop {
        let page = book
            .ask::<ListReservations>(json!({"garment": "G1", "after": after, "limit": 20}))
            .unwrap();
        all.extend(
            page.reservations
                .iter()
                .map(|promise| promise.reservation.get()),
        );
        after = page.meta.next;
        if after.is_none() {
            break;
        }
    }
    assert_eq!(all, (1..=46).rev().collect::<Vec<_>>());
    let active = json!({"garment": "G1", "state": "active"});
    assert_eq!(
        book.ask::<ListReservations>(active)
            .unwrap()
            .reservations
            .len(),
        1
    );
    assert!(
        book.ask::<ListReservations>(json!({"garment": "G2"}))
            .is_err()
    );
    book.audit();
}
