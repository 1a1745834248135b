//! Books with cloth, and short ways to ask them.

use crate::book::TestBook;
use ellwand_contract::{
    Amount, Problem,
    garments::{GetGarment, PlanGarment},
    lots::{GetLot, Piece, PieceChanged},
    purchases::Buy,
    reservations::{Reservation, Reserve},
    wash::FinishWash,
    workshop::SetWorkshop,
};
use ellwand_domain::setting::ReservationState;
use serde_json::{Value, json};
use std::sync::OnceLock;

pub type Answer<T> = Result<T, Box<Problem>>;

/// A book with nothing in it.
pub fn empty() -> TestBook {
    static EMPTY: OnceLock<Option<Vec<u8>>> = OnceLock::new();
    TestBook::begun(&EMPTY, |_| {})
}

/// Micrometres as people type them.
pub fn metres(um: i64) -> String {
    format!("{}.{:06}m", um / 1_000_000, um % 1_000_000)
}

/// What one object says, and where another says otherwise, what that says.
pub fn with(base: Value, more: &Value) -> Value {
    let Value::Object(mut fields) = base else {
        panic!("an object: {base}")
    };
    for (name, value) in more.as_object().unwrap() {
        fields.insert(name.clone(), value.clone());
    }
    Value::Object(fields)
}

pub fn settings(book: &TestBook, settings: Value) {
    book.ask::<SetWorkshop>(settings).unwrap();
}

/// Buys cloth 150 cm wide for 61.37; returns its lot.
pub fn buy(book: &TestBook, more: &Value, pieces: &[i64]) -> String {
    let cloth = with(
        json!({"kind": "cloth", "name": "linen", "full_width": "150cm"}),
        more,
    );
    let lengths: Vec<String> = pieces.iter().map(|length| metres(*length)).collect();
    let paid = metres(pieces.iter().sum());
    let line = json!({"material": cloth, "paid": paid, "pieces": lengths, "price": "61.37"});
    let bought = book.ask::<Buy>(json!({"line": [line]})).unwrap();
    bought.lines[0].lot.to_string()
}

/// Plans a garment, or so many alike, that need cloth; returns its code.
pub fn plan(book: &TestBook, need: &Value, count: usize) -> String {
    let base = json!({"role": "shell", "kind": "cloth", "length": "1m", "width": "1m", "preparation": "none"});
    let request = json!({"name": "apron", "count": count, "need": [with(base, need)]});
    book.ask::<PlanGarment>(request)
        .unwrap()
        .garment
        .to_string()
}

/// Promises from a piece what is open of the shell of a garment, or so many lengths of it.
pub fn promise(
    book: &TestBook,
    garment: &str,
    piece: &str,
    units: Option<usize>,
) -> Answer<Reservation> {
    let pick = json!({"need": "shell", "piece": piece, "units": units});
    let made = book.ask::<Reserve>(json!({"garment": garment, "picks": [pick]}))?;
    Ok(made.reservations.into_iter().next().unwrap())
}

/// The active promises of a garment.
pub fn active(book: &TestBook, garment: &str) -> Vec<Reservation> {
    let garment = book.ask::<GetGarment>(json!({"garment": garment})).unwrap();
    let all = garment.needs.into_iter().flat_map(|need| need.reservations);
    all.filter(|promise| promise.state == ReservationState::Active)
        .collect()
}

/// What lies on the shelf of a lot.
pub fn lying(book: &TestBook, lot: &str) -> Vec<Piece> {
    let pieces = book.ask::<GetLot>(json!({"lot": lot})).unwrap().pieces;
    pieces
        .into_iter()
        .filter(|piece| piece.on_hand.get() > 0)
        .collect()
}

/// Washes a piece.
pub fn wash(
    book: &TestBook,
    piece: &str,
    preparation: &str,
    length: i64,
    width: Option<i64>,
) -> Answer<PieceChanged> {
    let mut request = json!({"piece": piece, "preparation": preparation, "length": metres(length)});
    if let Some(width) = width {
        request["width"] = metres(width).into();
    }
    book.ask::<FinishWash>(request)
}

pub fn um(amount: Amount) -> i64 {
    match amount {
        Amount::LengthM(length) => length.get(),
        Amount::Count(_) => panic!("cloth is not counted"),
    }
}

/// `length × part / whole`, rounded up.
pub fn share_up(length: i64, part: i64, whole: i64) -> i64 {
    let (product, whole) = (i128::from(length) * i128::from(part), i128::from(whole));
    i64::try_from((product + whole - 1) / whole).unwrap()
}

/// `length × part / whole`, rounded down.
pub fn share_down(length: i64, part: i64, whole: i64) -> i64 {
    i64::try_from(i128::from(length) * i128::from(part) / i128::from(whole)).unwrap()
}

/// Up to a whole number of steps.
pub fn to_step(length: i64, step: i64) -> i64 {
    share_up(length, 1, step) * step
}
