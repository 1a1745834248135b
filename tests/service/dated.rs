//! Acts that are booked for an earlier day: none in the future, in closed books, or before what they rest on.

use crate::book::TestBook;
use ellwand_contract::{
    Problem, ProblemType,
    bookings::{GetLastBooking, Undo},
    details::RateDetail,
    garments::{CopyGarment, EditGarment, FinishGarment, PlanGarment},
    lots::{EditLot, MarkFlaw, PlacePiece, RemoveFlaw, SplitPiece},
    purchases::Buy,
    quotations::{CloseQuotation, MakeQuotation},
    reservations::{Release, Reserve},
    workshop::CloseBooks,
};
use ellwand_service::Perform;
use serde_json::{Value, json};

/// On 12 October: linen came in on the 5th, and the books are closed up to the 3rd.
fn book() -> TestBook {
    let book = TestBook::new();
    let linen = json!({"kind": "cloth", "name": "linen", "full_width": "150cm"});
    let line = json!([{"material": linen, "paid": "5m", "price": "40"}]);
    book.ask::<Buy>(json!({"date": "2026-10-05", "line": line}))
        .unwrap();
    book.ask::<CloseBooks>(json!({"to": "2026-10-03"})).unwrap();
    book
}

/// Asks for an act on a day of October.
fn on<A: Perform>(book: &TestBook, day: u32, request: &Value) -> Result<(), Box<Problem>> {
    let mut request = request.clone();
    request["date"] = json!(format!("2026-10-{day:02}"));
    book.ask::<A>(request).map(|_| ())
}

/// The act is refused on the 13th, which is still to come, on the 3rd, and before its first day; it is done on that, and booked for it.
#[track_caller]
fn dated<A: Perform>(book: &TestBook, first: u32, request: &Value) {
    let kind = |day| on::<A>(book, day, request).map_err(|problem| problem.kind);
    let before = last(book);
    assert_eq!(kind(13), Err(ProblemType::InvalidDate), "{}", A::NAME);
    assert_eq!(kind(3), Err(ProblemType::BooksClosed), "{}", A::NAME);
    if first > 4 {
        let early = kind(first - 1);
        assert_eq!(early, Err(ProblemType::InvalidDate), "{}", A::NAME);
    }
    assert_eq!(last(book), before, "{}", A::NAME);
    on::<A>(book, first, request).unwrap_or_else(|problem| panic!("{}: {problem}", A::NAME));
    let on_date = last(book).1;
    assert_eq!(on_date, format!("2026-10-{first:02}"), "{}", A::NAME);
}

/// The last booking and its day.
fn last(book: &TestBook) -> (String, String) {
    let last = book.ask::<GetLastBooking>(json!({})).unwrap();
    (last.booking.to_string(), last.on_date.to_string())
}

#[test]
fn every_act_on_shelf_and_garments_is_booked_for_its_day() {
    let book = book();
    let need = json!([{"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none", "detail": "yoke"}]);
    dated::<PlanGarment>(&book, 4, &json!({"name": "vest", "need": need}));
    dated::<EditGarment>(&book, 4, &json!({"garment": "G1", "name": "waistcoat"}));
    dated::<CopyGarment>(&book, 4, &json!({"garment": "G1"}));
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    dated::<Reserve>(&book, 5, &json!({"garment": "G1", "picks": picks}));
    dated::<Release>(&book, 5, &json!({"garment": "G1"}));
    dated::<PlacePiece>(&book, 5, &json!({"piece": "L1.1", "place": "A2"}));
    dated::<MarkFlaw>(&book, 5, &json!({"piece": "L1.1", "at": "4m"}));
    dated::<RemoveFlaw>(&book, 5, &json!({"piece": "L1.1", "flaw": 1}));
    dated::<SplitPiece>(&book, 5, &json!({"piece": "L1.1", "take": "1m"}));
    dated::<EditLot>(&book, 5, &json!({"lot": "L1", "dye_lot": "7"}));
    on::<FinishGarment>(&book, 8, &json!({"garment": "G1", "really": true})).unwrap();
    let rating = json!({"garment": "G1", "detail": "yoke", "rating": 3});
    dated::<RateDetail>(&book, 8, &rating);
    let priced = json!({"garment": "G2", "price": {"markup": "30%"}});
    on::<MakeQuotation>(&book, 6, &priced).unwrap();
    dated::<CloseQuotation>(&book, 6, &json!({"quotation": "Q1"}));
    book.audit();
}

/// A promise that was made on the 7th is not given back on the 6th.
#[test]
fn a_promise_is_released_from_its_own_day_on() {
    let book = book();
    let need = json!([{"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"}]);
    on::<PlanGarment>(&book, 4, &json!({"name": "vest", "need": need})).unwrap();
    let picks = json!([{"need": "shell", "piece": "L1.1"}]);
    on::<Reserve>(&book, 7, &json!({"garment": "G1", "picks": picks})).unwrap();
    dated::<Release>(&book, 7, &json!({"reservations": ["R1"]}));
}

/// The split of the 6th cannot be taken back before the 8th, when the piece was put elsewhere: on no day in between may what the
/// ledger says differ from what was there.
#[test]
fn an_undo_is_not_earlier_than_what_was_booked_on_the_same_things() {
    let book = book();
    on::<SplitPiece>(&book, 6, &json!({"piece": "L1.1", "take": "1m"})).unwrap();
    let split = last(&book).0;
    on::<PlacePiece>(&book, 8, &json!({"piece": "L1.1", "place": "A2"})).unwrap();
    let undo = json!({"booking": split});
    let kind = |day| on::<Undo>(&book, day, &undo).map_err(|problem| problem.kind);
    assert_eq!(kind(3), Err(ProblemType::BooksClosed));
    assert_eq!(kind(7), Err(ProblemType::InvalidDate));
    assert_eq!(kind(13), Err(ProblemType::InvalidDate));
    let undone = book
        .ask::<Undo>(json!({"booking": split, "date": "2026-10-08"}))
        .unwrap();
    assert_eq!(undone.bookings[0].on_date.to_string(), "2026-10-08");
    book.audit();
}

/// 4 m of 5 m were split off on the 10th, so that 1 m was there until found more was measured on the 11th: 2 m could not go on the
/// 10th.
#[test]
fn what_is_split_or_lost_earlier_was_there_since() {
    let book = book();
    on::<SplitPiece>(&book, 10, &json!({"piece": "L1.1", "take": "4m"})).unwrap();
    let found = json!({"piece": "L1.1", "found": "3m", "really": true});
    on::<ellwand_contract::lots::MeasurePiece>(&book, 11, &found).unwrap();
    let split = json!({"piece": "L1.1", "take": "2m"});
    let refused = on::<SplitPiece>(&book, 10, &split).unwrap_err();
    assert_eq!(refused.kind, ProblemType::InvalidDate);
    assert_eq!(refused.numbers["on_hand"], json!(1_000_000));
    let lost = json!({"piece": "L1.1", "found": "1m", "really": true});
    let refused = on::<ellwand_contract::lots::MeasurePiece>(&book, 10, &lost).unwrap_err();
    assert_eq!(refused.numbers["wanted"], json!(2_000_000));
    on::<SplitPiece>(&book, 11, &split).unwrap();
    book.audit();
}
