//! Undo of the last booking, whatever it was, is accepted and leads back to where the book was.

use crate::histories::{Draw, History, configuration, fine};
use ellwand_contract::{
    audit::RunAudit,
    bookings::{Booking, GetBooking, GetLastBooking, ListBookings, Undo},
    costs::{CostLine, GetCost},
    cuts::CutPromises,
    garments::GetGarment,
    lots::GetLot,
    reservations::ListReservations,
    shelf::GetShelf,
    wash::FinishWashes,
};
use ellwand_domain::setting::ReservationState;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// What a person sees of the book: shelf, where each lot's value went, costs and active promises of each garment.
/// Codes of promises and remarks are left out: a promise that is made again has a new code.
fn seen(history: &History, garments: usize) -> Vec<Value> {
    let book = &history.book;
    let mut seen = vec![json!(book.ask::<GetShelf>(json!({"limit": 500})).unwrap())];
    let lots: BTreeSet<String> = history
        .pieces()
        .iter()
        .map(|piece| piece.split('.').next().unwrap().to_owned())
        .collect();
    for lot in lots {
        let lot = book.ask::<GetLot>(json!({"lot": lot})).unwrap();
        seen.push(json!([lot.value_went, lot.stock, lot.landed]));
    }
    for number in 1..=garments {
        let code = json!({"garment": format!("G{number}")});
        let garment = book.ask::<GetGarment>(code.clone()).unwrap();
        let cost = book.ask::<GetCost>(code).unwrap();
        let mut promises: Vec<String> = Vec::new();
        for need in &garment.needs {
            let active = need
                .reservations
                .iter()
                .filter(|row| row.state == ReservationState::Active);
            promises.extend(
                active
                    .map(|row| format!("{} {} {} {:?}", row.need, row.piece, row.units, row.held)),
            );
        }
        promises.sort_unstable();
        let lines: Vec<Value> = cost.lines.iter().chain(&cost.losses).map(line).collect();
        seen.push(json!([
            number,
            garment.state,
            cost.job.actual,
            cost.all.actual,
            lines,
            promises
        ]));
    }
    seen
}

/// A line of the cost sheet. Its planned amount is left out: a promise that is computed anew is priced anew, with the late
/// charges that came meanwhile.
fn line(line: &CostLine) -> Value {
    let CostLine {
        name,
        detail,
        planned_quantity,
        actual_quantity,
        cost,
        ..
    } = line;
    json!([
        name,
        detail,
        planned_quantity,
        actual_quantity,
        cost.actual,
        cost.actual_printed
    ])
}

fn garments(history: &History) -> usize {
    (1..)
        .take_while(|number| {
            history
                .book
                .ask::<GetGarment>(json!({"garment": format!("G{number}")}))
                .is_ok()
        })
        .count()
}

fn last(history: &History) -> Option<i64> {
    history
        .book
        .ask::<GetLastBooking>(json!({}))
        .ok()
        .map(|booking| booking.booking.get())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: configuration().cases / 4, ..configuration() })]

    /// Each is taken back once nothing rests on it any more; what cannot be has ended, so that nothing is left of it.
    #[test]
    fn bookings_are_taken_back_in_any_order_to_where_the_book_was(
        average in any::<bool>(),
        draws in prop::collection::vec(any::<Draw>(), 15..35),
        order in prop::collection::vec(any::<usize>(), 20),
    ) {
        let history = History::new(average);
        let (known, begun) = (garments(&history), last(&history).unwrap());
        let before = seen(&history, known);
        // The first purchase and plan stay.
        let acts = draws.into_iter().filter(|draw| draw.0 % 24 < 22);
        acts.for_each(|draw| history.act(draw));
        let mut order = order.iter().cycle();
        loop {
            let all = history.book.ask::<ListBookings>(json!({"limit": 500})).unwrap().bookings;
            let stands = |booking: &&Booking| booking.booking.get() > begun && booking.undone_by.is_none() && booking.undoes.is_none();
            let standing: Vec<&Booking> = all.iter().filter(stands).collect();
            if standing.is_empty() {
                break;
            }
            let first = order.next().unwrap() % standing.len();
            let turned = standing[first..].iter().chain(&standing[..first]);
            let mut refused = Vec::new();
            let gone = turned.into_iter().any(|booking| {
                let undone = fine(history.book.ask::<Undo>(json!({"booking": booking.booking})).inspect_err(|why| refused.push(why.detail.clone())));
                undone.is_some()
            });
            let audit = history.book.ask::<RunAudit>(json!({})).unwrap();
            prop_assert!(audit.findings.is_empty(), "{:?}", audit.findings);
            if !gone {
                let ended = |detail: &String| detail.contains(", by B") && detail.starts_with('R');
                prop_assert!(refused.iter().all(ended), "{:?} {:?}", refused, standing);
                break;
            }
        }
        let after = seen(&history, known);
        for (was, is) in before.iter().zip(&after) {
            prop_assert_eq!(was, is);
        }
        prop_assert_eq!(before.len(), after.len());
    }

    #[test]
    fn the_last_booking_is_taken_back_to_where_the_book_was(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 20..40)) {
        let history = History::new(average);
        for draw in draws {
            let (known, booked) = (garments(&history), last(&history));
            let before = seen(&history, known);
            history.act(draw);
            let Some(new) = last(&history).filter(|new| booked.is_none_or(|booked| *new > booked)) else { continue };
            let summary = history.book.ask::<GetLastBooking>(json!({})).unwrap().summary;
            let undone = history.book.ask::<Undo>(json!({"booking": format!("B{new}")}));
            prop_assert!(undone.is_ok(), "{summary}: {undone:?}");
            let after = seen(&history, known);
            for (was, is) in before.iter().zip(&after) {
                prop_assert_eq!(was, is, "{}", summary);
            }
            prop_assert_eq!(before.len(), after.len(), "{}", summary);
            let audit = history.book.ask::<RunAudit>(json!({})).unwrap();
            prop_assert!(audit.findings.is_empty(), "{:?} after {}", audit.findings, summary);
            history.act(draw);
        }
    }
    /// What one request booked goes back together, whatever came before it.
    #[test]
    fn all_that_one_request_booked_is_taken_back_to_where_the_book_was(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 20..40)) {
        let history = History::new(average);
        for draw in draws {
            history.act(draw);
            let (known, booked) = (garments(&history), last(&history));
            let before = filled(&history, known);
            several(&history, draw);
            let Some(new) = last(&history).filter(|new| booked.is_none_or(|booked| *new > booked)) else { continue };
            let all = history.book.ask::<GetBooking>(json!({"booking": format!("B{new}")})).unwrap().together;
            let undone = history.book.ask::<Undo>(json!({"booking": format!("B{new}"), "together": true})).unwrap();
            prop_assert_eq!(undone.bookings.len(), all.len() + 1);
            prop_assert!(undone.left.is_empty() && last(&history) == booked);
            for (was, is) in before.iter().zip(&filled(&history, known)) {
                prop_assert_eq!(was, is);
            }
            let audit = history.book.ask::<RunAudit>(json!({})).unwrap();
            prop_assert!(audit.findings.is_empty(), "{:?}", audit.findings);
        }
    }
}

/// What is seen, with the units of each need in place of its promises: one that was cut unit by unit comes back unit by unit.
fn filled(history: &History, garments: usize) -> Vec<Value> {
    let mut seen = seen(history, garments);
    for row in seen.iter_mut().filter(|row| row[0].is_u64()) {
        let code = json!({"garment": format!("G{}", row[0])});
        let garment = history.book.ask::<GetGarment>(code).unwrap();
        let units = garment
            .needs
            .iter()
            .map(|need| (need.units_reserved, need.units_cut));
        row[5] = json!(units.collect::<Vec<_>>());
    }
    seen
}

/// Asks for all promises of a garment to be cut, or for two pieces to be washed.
fn several(history: &History, (_, a, b, c): Draw) {
    let book = &history.book;
    if a % 3 == 0 {
        let pieces = history.pieces();
        let washed = pieces.iter().skip(usize::from(b % 3)).take(2);
        let washed: Vec<Value> = washed
            .map(|piece| json!({"piece": piece, "length": format!("{}mm", c % 900 + 50)}))
            .collect();
        let asked = json!({"pieces": washed, "preparation": "washed", "really": true});
        fine(book.ask::<FinishWashes>(asked));
        return;
    }
    let garment = format!("G{}", usize::from(b) % garments(history).max(1) + 1);
    let asked = json!({"garment": garment, "state": "active"});
    let promises = book.ask::<ListReservations>(asked).unwrap().reservations;
    let promises: Vec<_> = promises.iter().map(|row| row.reservation).collect();
    let asked = json!({"garment": garment, "promises": promises, "really": true});
    fine(book.ask::<CutPromises>(asked));
}
