//! The program's own book, given the same acts.

use std::collections::BTreeMap;

use ellwand_contract::{
    Problem,
    bookings::{ListBookings, Undo},
    cuts::Cut,
    garments::{CancelGarment, DeliverGarment, FinishGarment, PlanGarment},
    goods::{DiscardGoods, GiveGoods, SellGoods},
    lots::{GetLot, MeasurePiece},
    purchases::{AddCharge, Buy},
    reservations::{Release, Reserve},
    wash::FinishWash,
    work::LogWork,
    workshop::{SetOverheadRate, SetPayRate, SetWorkshop},
};
use serde_json::{Value, json};

use super::requests::{buy, date, lot_of, material, money, needs, role, share, typed};
use crate::book::TestBook;
use crate::oracle::acts::Leftover;
use crate::oracle::{Act, ActId, Gone, Method, PieceId};

type Answer<T> = Result<T, Box<Problem>>;

/// A book with the codes of what the oracle knows by numbers.
pub struct Real {
    pub book: TestBook,
    pub pieces: BTreeMap<PieceId, String>,
    pub purchases: BTreeMap<ActId, String>,
    pub garments: BTreeMap<ActId, String>,
    pub bookings: BTreeMap<ActId, String>,
    pub persons: BTreeMap<ActId, String>,
    /// What was asked and answered, to be read.
    pub log: Vec<String>,
}

impl Real {
    pub fn new(method: Method) -> Self {
        let book = TestBook::new();
        let method = if method == Method::Average {
            "average"
        } else {
            "fifo"
        };
        book.ask::<SetWorkshop>(json!({"pooled_method": method}))
            .unwrap();
        let none = BTreeMap::new;
        let (garments, persons) = (none(), BTreeMap::new());
        Self {
            book,
            pieces: BTreeMap::new(),
            purchases: none(),
            garments,
            bookings: none(),
            persons,
            log: Vec::new(),
        }
    }

    fn last_booking(&self) -> Option<String> {
        let bookings = self
            .book
            .ask::<ListBookings>(json!({"limit": 1}))
            .unwrap()
            .bookings;
        bookings.first().map(|booking| booking.booking.to_string())
    }

    /// Sends an act; `id` is the number it has, or would have, with the oracle.
    pub fn send(
        &mut self,
        acts: &[Act],
        id: ActId,
        act: &Act,
        cuts: &[(ActId, PieceId, i128)],
    ) -> Answer<()> {
        let answer = self.ask(acts, id, act, cuts);
        let said = match &answer {
            Ok(()) => self.last_booking().unwrap_or_default(),
            Err(problem) => format!("refused: {}", problem.detail),
        };
        self.log.push(format!("{id}: {act:?} -> {said}"));
        if answer.is_ok()
            && !matches!(
                act,
                Act::Person { .. } | Act::Pay { .. } | Act::Overhead { .. }
            )
        {
            self.bookings.insert(id, said);
        }
        answer
    }

    fn ask(
        &mut self,
        acts: &[Act],
        id: ActId,
        act: &Act,
        cuts: &[(ActId, PieceId, i128)],
    ) -> Answer<()> {
        let book = &self.book;
        match act {
            Act::Buy { lines, charge } => {
                let bought = book.ask::<Buy>(buy(lines, *charge))?;
                self.purchases.insert(id, bought.purchase.to_string());
                for (number, line) in bought.lines.iter().enumerate() {
                    self.pieces
                        .insert(PieceId(id, number), line.pieces[0].to_string());
                }
            }
            Act::Charge {
                purchase,
                key,
                amount,
            } => {
                let Act::Buy { lines, .. } = &acts[*purchase] else {
                    unreachable!("a charge lies on a purchase")
                };
                let charge =
                    json!({"kind": "other", "amount": money(*amount), "share": share(*key, lines)});
                book.ask::<AddCharge>(
                    json!({"purchase": self.purchases[purchase], "charge": charge}),
                )?;
            }
            Act::Plan { count } => {
                let made = book.ask::<PlanGarment>(
                    json!({"name": "coat", "count": count, "need": needs(id)}),
                )?;
                self.garments.insert(id, made.garment.to_string());
            }
            Act::Cut {
                garment,
                piece,
                quantity,
                mistake,
            } => {
                let material = material(acts, *piece, &self.pieces);
                let reason = if *mistake { "own-mistake" } else { "planned" };
                book.ask::<Cut>(json!({
                    "garment": self.garments[garment], "need": role(material), "piece": self.pieces[piece],
                    "amount": typed(material, *quantity), "reason": reason, "keep_rest": true, "really": true,
                }))?;
            }
            Act::Leave {
                piece,
                quantity,
                to,
            } => self.leave(acts, *piece, *quantity, *to)?,
            Act::Reserve { garment, piece, .. } => {
                let pick = json!({"need": "shell", "piece": self.pieces[piece], "units": 1});
                book.ask::<Reserve>(json!({"garment": self.garments[garment], "picks": [pick]}))?;
            }
            Act::Release { reservation } => {
                let Act::Reserve { garment, .. } = &acts[*reservation] else {
                    unreachable!("a promise is released")
                };
                book.ask::<Release>(json!({"garment": self.garments[garment]}))?;
            }
            Act::Wash { piece, length } => {
                let now = json!({"piece": self.pieces[piece], "preparation": "washed", "length": typed(0, *length), "width": "150cm", "really": true});
                book.ask::<FinishWash>(now)?;
            }
            Act::Measure { piece, quantity } => {
                let found = typed(material(acts, *piece, &self.pieces), *quantity);
                book.ask::<MeasurePiece>(
                    json!({"piece": self.pieces[piece], "found": found, "really": true}),
                )?;
            }
            Act::Person { .. } => {}
            Act::Pay {
                person,
                per_hour,
                from,
            } => {
                let paid = matches!(acts[*person], Act::Person { paid: true });
                let rate = format!("{}.{:04}", per_hour / 10_000, per_hour % 10_000);
                book.ask::<SetPayRate>(json!({"person": self.persons[person], "paid": paid, "per_hour": rate, "from": from.map(date)}))?;
            }
            Act::Overhead { cost, hours, from } => {
                book.ask::<SetOverheadRate>(
                    json!({"amount": money(*cost), "hours": format!("{hours}h"), "from": from.map(date)}),
                )?;
            }
            Act::Work {
                garment,
                person,
                minutes,
                day,
                billable,
            } => {
                book.ask::<LogWork>(json!({
                    "garment": self.garments[garment], "operation": "sewing", "kind": "hand", "time": format!("{minutes}min"),
                    "person": self.persons[person], "billable": billable, "date": date(*day),
                }))?;
            }
            Act::Finish {
                garment,
                good,
                spoiled,
            } => {
                let spoilage = (*spoiled > 0).then_some("own-mistake");
                book.ask::<FinishGarment>(json!({"garment": self.garments[garment], "really": true, "good": good, "spoiled": spoiled, "spoilage": spoilage}))?;
            }
            Act::Deliver { garment } => {
                book.ask::<DeliverGarment>(json!({"garment": self.garments[garment]}))?;
            }
            Act::Cancel { garment, leftover } => {
                let to = match leftover {
                    Leftover::Loss => json!("loss"),
                    Leftover::Into(other) => json!({"garment": self.garments[other]}),
                    Leftover::Shelf => json!({"shelf": cuts.iter().map(|(cut, piece, quantity)| {
                        let amount = typed(material(acts, *piece, &self.pieces), *quantity);
                        json!({"booking": self.bookings[cut], "amount": amount})
                    }).collect::<Vec<Value>>()}),
                };
                let to = if cuts.is_empty() { Value::Null } else { to };
                book.ask::<CancelGarment>(
                    json!({"garment": self.garments[garment], "cut_material": to}),
                )?;
                if *leftover == Leftover::Shelf {
                    self.find_returned(acts, id, cuts);
                }
            }
        }
        Ok(())
    }

    fn leave(&self, acts: &[Act], piece: PieceId, quantity: i128, to: Gone) -> Answer<()> {
        let amount = typed(material(acts, piece, &self.pieces), quantity);
        let goods = json!({"piece": self.pieces[&piece], "amount": amount});
        match to {
            Gone::Given => self.book.ask::<GiveGoods>(json!({"goods": goods})),
            Gone::OwnUse => self
                .book
                .ask::<GiveGoods>(json!({"goods": goods, "own_use": true})),
            Gone::Sold => self
                .book
                .ask::<SellGoods>(json!({"goods": goods, "price": "9.00"})),
            Gone::Discarded => self
                .book
                .ask::<DiscardGoods>(json!({"goods": goods, "reason": "moths"})),
        }
        .map(drop)
    }

    /// The pieces that a return of cloth made, in the order in which the cuts were named.
    fn find_returned(&mut self, acts: &[Act], id: ActId, cuts: &[(ActId, PieceId, i128)]) {
        for (number, (_, piece, _)) in cuts.iter().enumerate() {
            if material(acts, *piece, &self.pieces) > 1 {
                continue;
            }
            let lot = lot_of(&self.pieces[piece]);
            let lying = self.book.ask::<GetLot>(json!({"lot": lot})).unwrap().pieces;
            let known = |code: &String| self.pieces.values().any(|piece| piece == code);
            let new = lying
                .iter()
                .map(|piece| piece.piece.to_string())
                .find(|code| !known(code));
            if let Some(code) = new {
                self.pieces.insert(PieceId(id, number), code);
            }
        }
    }

    pub fn undo(&mut self, act: ActId) -> Answer<()> {
        let booking = self.bookings[&act].clone();
        let answer = self.book.ask::<Undo>(json!({"booking": booking}));
        let said = match &answer {
            Ok(done) => done.bookings[0].booking.to_string(),
            Err(problem) => format!("refused: {}", problem.detail),
        };
        self.log.push(format!("undo {act} ({booking}) -> {said}"));
        answer.map(drop)
    }
}
