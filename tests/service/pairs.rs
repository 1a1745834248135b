//! An act that is taken back leaves the book as if it had never been booked, or its undo is refused and names what rests on it.

use crate::{book::TestBook, histories::configuration};
use ellwand_contract::{
    Micro,
    audit::RunAudit,
    bookings::{GetLastBooking, Undo},
    costs::GetCost,
    cuts::Cut,
    garments::{CancelGarment, FinishGarment, PlanGarment},
    lots::{GetLot, MeasurePiece, PlacePiece},
    purchases::{AddCharge, Buy},
    workshop::SetWorkshop,
};
use proptest::prelude::*;
use serde_json::{Value, json};

type Draw = (u8, u16, u16);

/// Two lots of buttons and one of wool, three garments.
fn stocked(average: bool) -> TestBook {
    let book = TestBook::new();
    let method = if average { "average" } else { "fifo" };
    book.ask::<SetWorkshop>(json!({"pooled_method": method}))
        .unwrap();
    let button = json!({"kind": "trim", "name": "button", "unit": "count"});
    let wool = json!({"kind": "cloth", "name": "wool", "full_width": "150cm"});
    for (material, paid, price) in [
        (&button, "100", "100.00"),
        (&button, "100", "337.77"),
        (&wool, "10m", "100.00"),
    ] {
        book.ask::<Buy>(json!({"line": [{"material": material, "paid": paid, "price": price}]}))
            .unwrap();
    }
    for name in ["coat", "vest", "skirt"] {
        let need = json!([
            {"role": "button", "kind": "trim", "count": 90, "mixing": true},
            {"role": "shell", "kind": "cloth", "length": "9m", "width": "140cm", "preparation": "none"},
        ]);
        book.ask::<PlanGarment>(json!({"name": name, "need": need}))
            .unwrap();
    }
    book
}

/// True where the act takes buttons.
fn takes((kind, ..): Draw) -> bool {
    matches!(kind % 10, 0..=2)
}

/// Books an act; its booking, unless it was refused.
fn act(book: &TestBook, (kind, a, b): Draw) -> Option<i64> {
    let garment = format!("G{}", a % 3 + 1);
    let button = format!("L{}.1", b % 2 + 1);
    let reason = if a.is_multiple_of(5) {
        "own-mistake"
    } else {
        "planned"
    };
    let done = match kind % 10 {
        0..=2 => {
            let amount = (b % 23 + 1).to_string();
            let cut = json!({"garment": garment, "need": "button", "piece": button, "amount": amount, "reason": reason, "units": 0});
            book.ask::<Cut>(cut).is_ok()
        }
        3 => {
            let amount = format!("{}cm", b % 90 + 10);
            let cut = json!({"garment": garment, "need": "shell", "piece": "L3.1", "amount": amount, "reason": reason, "units": 0});
            book.ask::<Cut>(cut).is_ok()
        }
        4 => book
            .ask::<MeasurePiece>(
                json!({"piece": button, "found": (a % 100).to_string(), "after": "resting", "really": true}),
            )
            .is_ok(),
        5 | 6 => {
            let amount = format!("{}{}.{:02}", if b % 4 == 0 { "-" } else { "" }, a % 9, b % 100);
            let charge = json!({"kind": "other", "amount": amount});
            book.ask::<AddCharge>(json!({"purchase": format!("P{}", b % 3 + 1), "charge": charge})).is_ok()
        }
        7 => book.ask::<PlacePiece>(json!({"piece": button, "place": format!("box {}", a % 4)})).is_ok(),
        8 => book.ask::<FinishGarment>(json!({"garment": garment})).is_ok(),
        _ => {
            let to = if b % 2 == 0 { json!("loss") } else { json!({"garment": format!("G{}", b % 3 + 1)}) };
            book.ask::<CancelGarment>(json!({"garment": garment, "cut_material": to})).is_ok()
        }
    };
    done.then(|| book.ask::<GetLastBooking>(json!({})).unwrap().booking.get())
}

/// Values of the stock and of the garments, and where the pieces lie.
fn seen(book: &TestBook) -> (Vec<i64>, Vec<Value>) {
    let (mut values, mut places) = (Vec::new(), Vec::new());
    for number in 1..=3 {
        let lot = book
            .ask::<GetLot>(json!({"lot": format!("L{number}")}))
            .unwrap();
        let stock = lot.stock.as_ref().and_then(|stock| stock.value);
        values.extend([lot.landed, stock].map(|value| value.map_or(0, Micro::get)));
        for piece in &lot.pieces {
            values.push(piece.value.map_or(0, Micro::get));
            places.push(json!([piece.piece, piece.on_hand, piece.place]));
        }
        let cost = book
            .ask::<GetCost>(json!({"garment": format!("G{number}")}))
            .unwrap();
        values.push(cost.job.actual.map_or(0, Micro::get));
    }
    (values, places)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: configuration().cases * 2, ..configuration() })]

    #[test]
    fn history_and_undo_are_history_without(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 3..9), chosen in any::<usize>()) {
        let chosen = chosen % draws.len();
        let (with, without) = (stocked(average), stocked(average));
        let booked: Vec<Option<i64>> = draws.iter().map(|draw| act(&with, *draw)).collect();
        let Some(own) = booked[chosen] else { return Ok(()) };
        match with.ask::<Undo>(json!({"booking": format!("B{own}")})) {
            Err(refusal) => {
                let names = |later: &i64| *later > own && refusal.detail.contains(&format!("B{later}"));
                prop_assert!(booked.iter().flatten().any(names), "{refusal:?}");
            }
            Ok(_) => {
                // A cut returns at the cost it left with, and later ones keep theirs.
                let later = draws.iter().zip(&booked).skip(chosen + 1);
                if takes(draws[chosen]) && later.filter(|(_, booked)| booked.is_some()).any(|(draw, _)| takes(*draw) || draw.0 % 10 == 4) {
                    return Ok(());
                }
                for (number, draw) in draws.iter().enumerate().filter(|(number, _)| *number != chosen) {
                    if act(&without, *draw).is_some() != booked[number].is_some() {
                        return Ok(());
                    }
                }
                let ((values, places), (others, other_places)) = (seen(&with), seen(&without));
                prop_assert_eq!(places, other_places);
                for (value, other) in values.iter().zip(&others) {
                    prop_assert!((value - other).abs() <= 10, "{:?} or {:?}", values, others);
                }
            }
        }
        let audit = with.ask::<RunAudit>(json!({})).unwrap();
        prop_assert!(audit.findings.is_empty(), "{:?}", audit.findings);
    }
}
