//! An act that is taken back leaves the book as if it had never been booked, or its undo is refused and names what rests on it.

use crate::{book::TestBook, histories::configuration};
use ellwand_contract::{
    Micro,
    audit::RunAudit,
    bookings::{GetLastBooking, Undo},
    costs::GetCost,
    cuts::Cut,
    garments::{CancelGarment, FinishGarment, GetGarment, PlanGarment},
    lots::{EditLot, GetLot, MeasurePiece, PlacePiece, SplitPiece},
    purchases::{AddCharge, Buy},
    reservations::{Release, Reserve},
    wash::FinishWash,
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
            {"role": "shell", "kind": "cloth", "length": "1.96m", "width": "100cm", "preparation": "none"},
        ]);
        book.ask::<PlanGarment>(json!({"name": name, "need": need}))
            .unwrap();
    }
    book
}

/// Kinds of acts.
const KINDS: u8 = 20;

/// True where the act takes buttons.
fn takes((kind, ..): Draw) -> bool {
    matches!(kind % KINDS, 0..=2)
}

/// True where the act counts buttons.
fn counts((kind, ..): Draw) -> bool {
    kind % KINDS == 4
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
    let done = match kind % KINDS {
        0..=2 => {
            let amount = (b % 23 + 1).to_string();
            let cut = json!({"garment": garment, "need": "button", "piece": button, "amount": amount, "reason": reason, "units": 0});
            book.ask::<Cut>(cut).is_ok()
        }
        3 | 10..=12 => {
            let amount = format!("{}cm", b % 90 + 10);
            let mut cut = json!({"garment": garment, "need": "shell", "piece": "L3.1", "amount": amount, "reason": reason, "units": 0, "really": true});
            match kind % KINDS {
                10 => cut["at"] = format!("{}cm", a % 300).into(),
                11 => cut["end"] = "inner".into(),
                12 => cut["panel_width"] = "40cm".into(),
                _ => {}
            }
            book.ask::<Cut>(cut).is_ok()
        }
        13 | 14 => {
            let take = format!("{}cm", a % 200 + 1);
            let end = ["outer", "inner"][usize::from(b % 2)];
            book.ask::<SplitPiece>(json!({"piece": "L3.1", "take": take, "end": end})).is_ok()
        }
        15 => {
            let length = format!("{}cm", 600 + a % 300);
            book.ask::<FinishWash>(json!({"piece": "L3.1", "preparation": "washed", "length": length, "really": true})).is_ok()
        }
        16 => {
            let found = format!("{}cm", 600 + a % 400);
            book.ask::<MeasurePiece>(json!({"piece": "L3.1", "found": found, "really": true})).is_ok()
        }
        17 => {
            let sheet = match a % 3 {
                0 => json!({"colour": format!("blue {}", b % 3)}),
                1 => json!({"full_width": format!("{}cm", 140 + b % 9)}),
                _ => json!({"selvedges": format!("{}cm", b % 4)}),
            };
            let dye_lot = (b % 4 == 0).then(|| (a % 3).to_string());
            book.ask::<EditLot>(json!({"lot": "L3", "sheet": sheet, "dye_lot": dye_lot, "really": true})).is_ok()
        }
        18 => {
            let pick = json!({"need": "shell", "piece": "L3.1", "units": 1});
            book.ask::<Reserve>(json!({"garment": garment, "picks": [pick]})).is_ok()
        }
        19 => book.ask::<Release>(json!({"garment": garment})).is_ok(),
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
        8 => book.ask::<FinishGarment>(json!({"garment": garment, "really": true})).is_ok(),
        _ => {
            let to = if b % 2 == 0 { json!("loss") } else { json!({"garment": format!("G{}", b % 3 + 1)}) };
            book.ask::<CancelGarment>(json!({"garment": garment, "cut_material": to})).is_ok()
        }
    };
    done.then(|| book.ask::<GetLastBooking>(json!({})).unwrap().booking.get())
}

/// Values of the stock and of the garments, and how everything lies: pieces of which something is left, whatever their codes.
fn seen(book: &TestBook) -> (Vec<i64>, Vec<Value>) {
    let (mut values, mut all) = (Vec::new(), Vec::new());
    for number in 1..=3 {
        let lot = book
            .ask::<GetLot>(json!({"lot": format!("L{number}")}))
            .unwrap();
        let stock = lot.stock.as_ref().and_then(|stock| stock.value);
        values.extend([lot.landed, stock].map(|value| value.map_or(0, Micro::get)));
        let mut pieces: Vec<(String, i64, Value)> = Vec::new();
        for piece in lot.pieces.iter().filter(|piece| piece.on_hand.get() > 0) {
            let lies = json!([
                piece.on_hand,
                piece.reserved,
                piece.place,
                piece.preparation,
                piece.full_width_m,
                piece.usable_width_m
            ]);
            let value = piece.value.map_or(0, Micro::get);
            pieces.push((lies.to_string(), value, lies));
        }
        pieces.sort_by(|one, other| (&one.0, one.1).cmp(&(&other.0, other.1)));
        values.extend(pieces.iter().map(|(_, value, _)| *value));
        all.push(json!([lot.sheet, lot.dye_lot]));
        all.extend(pieces.into_iter().map(|(_, _, lies)| lies));
        let garment = json!({"garment": format!("G{number}")});
        let cost = book.ask::<GetCost>(garment.clone()).unwrap();
        values.push(cost.job.actual.map_or(0, Micro::get));
        all.push(json!(book.ask::<GetGarment>(garment).unwrap().state));
    }
    (values, all)
}

/// The texts of what later acts did to the promise or the cloth, where no booking stands in the way but what one made.
fn names_a_promise(refusal: &str) -> bool {
    ["is promised", "is no longer free", "is no longer needed"]
        .iter()
        .any(|text| refusal.contains(text))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: configuration().cases * 2, ..configuration() })]

    #[test]
    fn history_and_undo_are_history_without(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 3..12), chosen in any::<usize>()) {
        let chosen = chosen % draws.len();
        let (with, without) = (stocked(average), stocked(average));
        let booked: Vec<Option<i64>> = draws.iter().map(|draw| act(&with, *draw)).collect();
        let Some(own) = booked[chosen] else { return Ok(()) };
        match with.ask::<Undo>(json!({"booking": format!("B{own}")})) {
            Err(refusal) => {
                let names = |later: &i64| *later > own && refusal.detail.contains(&format!("B{later}"));
                let named = names_a_promise(&refusal.detail) || booked.iter().flatten().any(names);
                prop_assert!(named, "{refusal:?}");
            }
            Ok(_) => {
                // A cut returns at the cost it left with, and later ones keep theirs.
                let later = draws.iter().zip(&booked).skip(chosen + 1);
                if takes(draws[chosen]) && later.filter(|(_, booked)| booked.is_some()).any(|(draw, _)| takes(*draw) || counts(*draw)) {
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
