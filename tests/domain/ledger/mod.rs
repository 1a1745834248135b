//! The ledger: pieces, promises, cuts and what random histories of them must never break.

mod book;
mod changes;
mod cuts;
mod dispose;
mod history;
mod panels;
mod promises;
mod stretches;

use chrono::NaiveDate;
use ellwand_domain::{
    ledger::{CutOrder, Flaw, Hold, Piece, Quantity, Rank, Rectangle},
    quantity::{Micrometres, Millionths},
};

fn q(number: i64) -> Quantity {
    Quantity::new(number).unwrap()
}

fn mm(millimetres: i64) -> Quantity {
    q(millimetres * 1_000)
}

fn money(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

fn day(day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 3, day).unwrap()
}

/// A piece 1.40 m wide with 1 cm of selvedges.
fn cloth(length_mm: i64, millionths: i64) -> Piece {
    let rectangle = Rectangle {
        full: Micrometres::from_mm(1_400),
        selvedges: Micrometres::from_mm(10),
    };
    Piece::new(1, mm(length_mm), Some(rectangle), money(millionths))
}

fn flaw(at_mm: i64, length_mm: i64) -> Flaw {
    Flaw {
        at: at_mm * 1_000,
        length: length_mm * 1_000,
        note: "stain".to_owned(),
    }
}

/// A piece of 10 m worth 100.00 with flaws (place, length) in millimetres.
fn flawed(flaws: &[(i64, i64)]) -> Piece {
    let mut piece = cloth(10_000, 100_000_000);
    for (at, length) in flaws {
        piece.mark_flaw(flaw(*at, *length)).unwrap();
    }
    piece
}

/// A promise made on the day of its number.
fn rank(reservation: i64) -> Rank {
    let promised = day(u32::try_from(reservation).unwrap());
    Rank {
        accepted: false,
        due: None,
        promised,
        reservation,
    }
}

/// Promises (reservation, stretch, millimetres) laid on as given.
fn promise(piece: &mut Piece, holds: &[(i64, usize, i64)]) {
    for (reservation, stretch, length) in holds {
        piece
            .holds
            .push(Hold::whole(*stretch, mm(*length), rank(*reservation)));
    }
}

/// Where promises lie: (reservation, stretch, millimetres), by reservation.
fn holds(piece: &Piece) -> Vec<(i64, usize, i64)> {
    let mut holds: Vec<_> = piece
        .holds
        .iter()
        .map(|hold| (hold.reservation, hold.stretch, hold.quantity.get() / 1_000))
        .collect();
    holds.sort_unstable();
    holds
}

/// Flaws as (place, length) in millimetres.
fn flaws(found: &[Flaw]) -> Vec<(i64, i64)> {
    found
        .iter()
        .map(|flaw| (flaw.at / 1_000, flaw.length / 1_000))
        .collect()
}

/// Stretches as (start, length) in millimetres.
fn spans(piece: &Piece) -> Vec<(i64, i64)> {
    piece
        .spans()
        .into_iter()
        .map(|(start, length)| (start / 1_000, length / 1_000))
        .collect()
}

/// A cut drawn from a promise.
fn drawn(reservation: i64, length_mm: i64) -> CutOrder {
    CutOrder {
        reservation: Some(reservation),
        ..CutOrder::free(mm(length_mm))
    }
}
