//! What one request booked is taken back together, or one booking of it alone.

use crate::book::{TestBook, day, send};
use ellwand_contract::{
    Sending,
    bookings::{GetBooking, GetLastBooking, Undo},
    cuts::CutPromises,
    garments::{DeliverGarment, FinishGarment, GetGarment, PlanGarment},
    lots::{MarkFlaw, SplitPiece},
    parties::EraseCustomer,
    purchases::Buy,
    reservations::Reserve,
    wash::FinishWashes,
    workshop::CloseBooks,
};
use serde_json::json;
use uuid::Uuid;

/// Two pieces that one request washed: B3 and B4.
fn washed() -> TestBook {
    let book = TestBook::new();
    let linen = json!({"material": {"kind": "cloth", "name": "linen", "full_width": "150cm"}, "paid": "4m", "price": "40"});
    book.ask::<Buy>(json!({"line": [linen], "date": "2026-10-01"}))
        .unwrap();
    book.ask::<SplitPiece>(json!({"piece": "L1.1", "take": "2m"}))
        .unwrap();
    let pieces =
        json!([{"piece": "L1.1", "length": "1.90m"}, {"piece": "L1.2", "length": "1.91m"}]);
    book.ask::<FinishWashes>(json!({"pieces": pieces, "preparation": "washed", "really": true}))
        .unwrap();
    book
}

fn stands(book: &TestBook, booking: &str) -> bool {
    let shown = book.ask::<GetBooking>(json!({"booking": booking})).unwrap();
    shown.undone_by.is_none()
}

#[test]
fn one_of_them_alone_leaves_the_other_and_says_so() {
    let book = washed();
    let last = book.ask::<GetLastBooking>(json!({})).unwrap();
    assert_eq!(json!([last.booking, last.together]), json!(["B4", ["B3"]]));
    let undone = book.ask::<Undo>(json!({"booking": "B3"})).unwrap();
    assert_eq!(
        (undone.bookings.len(), json!(undone.left)),
        (1, json!(["B4"]))
    );
    // What was taken back is not taken back again, nor offered with the other.
    let twice = book.ask::<Undo>(json!({"booking": "B3", "together": true}));
    assert!(
        twice
            .unwrap_err()
            .detail
            .contains("B3 was already taken back")
    );
    let undone = book.ask::<Undo>(json!({"booking": "B4", "together": true}));
    assert_eq!(undone.unwrap().bookings.len(), 1);
    book.audit();
}

/// A flaw that was marked on the first piece since stands in the way of both, and nothing is half done.
#[test]
fn a_later_booking_on_one_of_them_keeps_all() {
    let book = washed();
    book.ask::<MarkFlaw>(json!({"piece": "L1.1", "at": "1m"}))
        .unwrap();
    let refused = book.ask::<Undo>(json!({"booking": "B4", "together": true}));
    assert!(refused.unwrap_err().detail.contains("B5"));
    assert!(stands(&book, "B3") && stands(&book, "B4"));
    book.ask::<Undo>(json!({"booking": "B5"})).unwrap();
    book.ask::<Undo>(json!({"booking": "B4", "together": true}))
        .unwrap();
    assert!(!stands(&book, "B3"));
    book.audit();
}

/// The opposites are booked on an open day, all of them, or none.
#[test]
fn closed_books_take_none_of_the_opposites() {
    let book = washed();
    let later = book.handle(2);
    let sent = |request| send::<Undo>(&later, request, Sending::default());
    send::<CloseBooks>(&later, json!({"to": "2026-10-13"}), Sending::default()).unwrap();
    let refused = sent(json!({"booking": "B4", "together": true, "date": "2026-10-13"}));
    assert!(
        refused
            .unwrap_err()
            .detail
            .contains("closed up to 2026-10-13")
    );
    assert!(stands(&book, "B3") && stands(&book, "B4"));
    let undone = sent(json!({"booking": "B4", "together": true})).unwrap();
    let days: Vec<_> = undone.bookings.iter().map(|row| row.on_date).collect();
    assert_eq!(days, [day(2).date_naive(), day(2).date_naive()]);
}

/// The answer of a request is repeated, and takes nothing more back.
#[test]
fn the_same_request_again_gets_the_first_answer() {
    let book = washed();
    let asked = json!({"id": Uuid::now_v7(), "booking": "B4", "together": true});
    let first = book.ask::<Undo>(asked.clone()).unwrap();
    let again = book.ask::<Undo>(asked).unwrap();
    assert_eq!(json!(first), json!(again));
    let undone: Vec<_> = first.bookings.iter().map(|row| row.undoes).collect();
    assert_eq!(json!(undone), json!(["B4", "B3"]), "the newest first");
}

/// The record of a request that told of an erased customer is empty; what it booked still belongs together.
#[test]
fn an_erased_name_keeps_together_what_was_booked_for_it() {
    let book = TestBook::new();
    let linen = json!({"material": {"kind": "cloth", "name": "linen", "full_width": "150cm"}, "paid": "4m", "price": "40"});
    let thread = json!({"material": {"kind": "thread", "name": "grey thread", "reel_length": "100m"}, "paid": "100m", "price": "10"});
    book.ask::<Buy>(json!({"line": [linen, thread]})).unwrap();
    let needs = json!([{"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"},
        {"role": "thread", "kind": "thread", "length": "9m"}]);
    book.ask::<PlanGarment>(json!({"name": "coat", "customer": "Ada Quill", "need": needs}))
        .unwrap();
    let picks = json!([{"need": "shell", "piece": "L1.1"}, {"need": "thread", "piece": "L2.1"}]);
    book.ask::<Reserve>(json!({"garment": "G1", "picks": picks}))
        .unwrap();
    book.ask::<CutPromises>(json!({"garment": "G1", "promises": ["R1", "R2"]}))
        .unwrap();
    let last = book.ask::<GetLastBooking>(json!({})).unwrap();
    assert_eq!(json!([last.booking, last.together]), json!(["B5", ["B4"]]));
    book.ask::<FinishGarment>(json!({"garment": "G1", "really": true}))
        .unwrap();
    book.ask::<DeliverGarment>(json!({"garment": "G1"}))
        .unwrap();
    book.ask::<EraseCustomer>(json!({"customer": "C1"}))
        .unwrap();
    for booking in ["B7", "B6"] {
        book.ask::<Undo>(json!({"booking": booking})).unwrap();
    }
    let undone = book.ask::<Undo>(json!({"booking": "B5", "together": true}));
    assert_eq!(undone.unwrap().restored.len(), 2);
    let garment = book.ask::<GetGarment>(json!({"garment": "G1"})).unwrap();
    assert_eq!(json!(garment.state), "planned");
    book.audit();
}
