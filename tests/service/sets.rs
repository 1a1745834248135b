//! Random histories of buttons: whatever is promised, released, cut, counted anew, edited and taken back, a set that matches
//! is wholly of one lot, and counts only when it is whole.

use crate::{
    book::TestBook,
    histories::{Draw, configuration, fine},
};
use ellwand_contract::{
    Amount,
    audit::RunAudit,
    bookings::{ListBookings, Undo},
    cuts::Cut,
    garments::{EditGarment, FinishGarment, GetCandidates, GetGarment, Need, PlanGarment},
    lots::{EditLot, MeasurePiece, SplitPiece},
    purchases::Buy,
    reservations::{Release, Reservation, Reserve},
    shelf::GetShelf,
};
use ellwand_domain::{code::LotCode, setting::ReservationState};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Garments: a coat, three alike shirts of one lot, two of several lots, and a vest whose buttons need not match.
const GARMENTS: [(&str, i64, bool, bool); 4] = [
    ("coat", 1, true, false),
    ("shirt", 3, true, false),
    ("blouse", 2, true, true),
    ("vest", 2, false, false),
];

fn buttons(number: u16) -> Value {
    let (_, _, matching, mixing) = GARMENTS[usize::from(number % 4)];
    json!({"role": "buttons", "kind": "trim", "count": number / 4 % 3 + 4, "spares": 1, "size": "24L",
        "matching": matching, "mixing": mixing})
}

fn workshop() -> TestBook {
    let book = TestBook::new();
    for (count, size) in [(11, "24L"), (9, "15mm"), (13, "24L"), (20, "24L")] {
        buy(&book, count, size);
    }
    for (number, (name, count, ..)) in (0..).zip(GARMENTS) {
        let plan = json!({"name": name, "count": count, "need": [buttons(number)]});
        book.ask::<PlanGarment>(plan).unwrap();
    }
    book
}

fn buy(book: &TestBook, count: u16, size: &str) {
    let line = json!({"material": {"kind": "trim", "name": "button", "size": size}, "paid": count.to_string(), "price": "3.30"});
    fine(book.ask::<Buy>(json!({"line": [line]})));
}

fn pick<T: Clone>(list: &[T], number: u16) -> Option<T> {
    list.get(usize::from(number).checked_rem(list.len())?)
        .cloned()
}

fn needs(book: &TestBook) -> Vec<Need> {
    (1..=4)
        .flat_map(|number| {
            book.ask::<GetGarment>(json!({"garment": format!("G{number}")}))
                .unwrap()
                .needs
        })
        .collect()
}

fn act(book: &TestBook, (kind, a, b, c): Draw) {
    let garment = format!("G{}", a % 4 + 1);
    let shelf = book.ask::<GetShelf>(json!({"limit": 200})).unwrap();
    let pieces: Vec<String> = shelf
        .pieces
        .iter()
        .map(|piece| piece.piece.to_string())
        .collect();
    let Some(piece) = pick(&pieces, b) else {
        return buy(book, 12, "24L");
    };
    let other = pick(&pieces, c).unwrap();
    let active: Vec<Reservation> = needs(book)
        .into_iter()
        .flat_map(|need| need.reservations)
        .filter(|row| row.state == ReservationState::Active)
        .collect();
    match kind % 13 {
        0 => buy(book, c % 15 + 1, if b % 3 == 0 { "28L" } else { "24L" }),
        1 | 2 => {
            fine(book.ask::<SplitPiece>(json!({"piece": piece, "take": (c % 8 + 1).to_string()})));
        }
        3 | 4 => {
            let found = fine(book.ask::<GetCandidates>(json!({"garment": garment}))).unwrap();
            let picks: Vec<_> = found
                .needs
                .into_iter()
                .flat_map(|need| need.picks)
                .collect();
            if !picks.is_empty() {
                // What is offered can be promised, while the garment is in hand.
                let made = book.ask::<Reserve>(json!({"garment": garment, "picks": picks}));
                let over = format!("{garment} is ");
                assert!(
                    made.as_ref()
                        .map_or_else(|problem| problem.detail.starts_with(&over), |_| true),
                    "{made:?}"
                );
            }
        }
        5 | 6 => {
            let part = |piece: &str, trims: u16| json!({"need": "buttons", "piece": piece, "trims": trims});
            let picks = match c % 3 {
                0 => json!([part(&piece, b % 7 + 1)]),
                1 => json!([part(&piece, b % 6 + 1), part(&other, 6 - b % 6)]),
                _ => json!([{"need": "buttons", "piece": piece, "units": 1}]),
            };
            let until = if c % 5 == 0 {
                json!("2026-10-12")
            } else {
                Value::Null
            };
            fine(book.ask::<Reserve>(json!({"garment": garment, "picks": picks, "until": until})));
        }
        7 => {
            if let Some(row) = pick(&active, c) {
                fine(book.ask::<Release>(json!({"reservations": [row.reservation]})));
            }
        }
        8 => {
            if let Some(row) = pick(&active, c) {
                let amount = if b % 3 == 0 { json!("1") } else { Value::Null };
                let reason = if a % 3 == 0 {
                    "customer-change"
                } else {
                    "planned"
                };
                fine(book.ask::<Cut>(
                    json!({"garment": row.garment, "need": "buttons", "reservation": row.reservation,
                    "amount": amount, "reason": reason}),
                ));
            }
        }
        9 => {
            fine(book.ask::<MeasurePiece>(
                json!({"piece": piece, "found": (c % 9).to_string(), "really": true, "after": "resting"}),
            ));
        }
        10 => {
            let size = if c % 2 == 0 { "24L" } else { "28L" };
            let lot = piece.split('.').next().unwrap();
            fine(book.ask::<EditLot>(json!({"lot": lot, "sheet": {"size": size}})));
        }
        11 if b % 4 == 0 => {
            fine(book.ask::<FinishGarment>(json!({"garment": garment, "really": true})));
        }
        11 => {
            let need = buttons(a % 4 + c % 3 * 4);
            fine(book.ask::<EditGarment>(json!({"garment": garment, "need": [need]})));
        }
        _ => {
            let bookings = book
                .ask::<ListBookings>(json!({"limit": 100}))
                .unwrap()
                .bookings;
            if let Some(booking) = pick(&bookings, if b % 2 == 0 { 0 } else { c }) {
                fine(book.ask::<Undo>(json!({"booking": booking.booking})));
            }
        }
    }
}

fn held(row: &Reservation) -> i64 {
    match row.held {
        Amount::Count(count) => count,
        Amount::LengthM(_) => panic!("buttons are counted: {row:?}"),
    }
}

/// What holds of every need at any time: the trims of a lot make as many sets as they are whole multiples of one, those that
/// are cut first.
fn check(need: &Need) {
    let each = need.count.unwrap() + need.spares.unwrap_or(0);
    assert!(
        need.units_reserved + need.units_cut <= need.units,
        "more than the plan takes: {need:?}"
    );
    let mut lots: BTreeMap<LotCode, [i64; 3]> = BTreeMap::new();
    for used in &need.used {
        let Amount::Count(taken) = used.taken else {
            panic!("buttons are counted: {used:?}")
        };
        lots.entry(used.lot).or_default()[0] += taken;
    }
    let active = need.reservations.iter();
    for row in active.filter(|row| row.state == ReservationState::Active) {
        let lot = lots.entry(row.piece.lot).or_default();
        lot[1] += held(row);
        lot[2] += row.units;
    }
    let mut cut = 0;
    for (lot, [taken, held, units]) in &lots {
        let (whole, more) = (taken / each, (taken + held) / each - taken / each);
        cut += whole;
        assert!(*units <= more, "{lot} makes {more} more: {need:?}");
        let full = need.units_reserved + need.units_cut == need.units;
        assert!(full || *units == more, "{lot} makes {more} more: {need:?}");
    }
    assert_eq!(need.units_cut, cut.min(need.units), "{need:?}");
}

proptest! {
    // Each step reads four garments: a third of the cases.
    #![proptest_config(ProptestConfig { cases: configuration().cases / 3, ..configuration() })]

    #[test]
    fn a_matching_set_is_wholly_of_one_lot(draws in prop::collection::vec(any::<Draw>(), 20..50)) {
        let book = workshop();
        for draw in draws {
            act(&book, draw);
            let findings = book.ask::<RunAudit>(json!({})).unwrap().findings;
            prop_assert!(findings.is_empty(), "{:?} after {:?}", findings, draw);
            needs(&book).iter().for_each(check);
        }
    }
}
