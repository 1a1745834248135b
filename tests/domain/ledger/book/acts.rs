//! The acts: receiving, charging, changing, promising. Each is refused whole or booked whole.

use super::{Book, Deed, Rank, State, day, money, q, rules, supplier};
use ellwand_domain::{
    layer::{Layer, receive},
    ledger::{Account, AccountKind, Flaw, Piece, Quantity, Rectangle},
    purchase::spread_late,
    quantity::Micrometres,
    setting::End,
};

/// Where a length of a flaw, cut or promise is measured against: thousandths of what there is.
pub type Length = i64;

#[derive(Debug, Clone)]
pub enum Act {
    Receive {
        length: i64,
        width: i64,
        value: i64,
    },
    ReceiveTrims {
        number: i64,
        value: i64,
    },
    Charge {
        lot: u8,
        value: i64,
    },
    Prepare {
        piece: u8,
        ppm: i64,
    },
    Measure {
        piece: u8,
        length: Length,
    },
    Flaw {
        piece: u8,
        at: Length,
        length: Length,
    },
    MendFlaw {
        piece: u8,
        flaw: u8,
    },
    Split {
        piece: u8,
        length: Length,
        end: End,
    },
    Reserve {
        piece: u8,
        length: Length,
        accepted: bool,
        due: Option<u32>,
        promised: u32,
    },
    End {
        choice: u8,
        expired: bool,
    },
    Cut(super::cutting::CutAct),
    Finish {
        garment: u8,
        started: i64,
        spoiled: i64,
    },
    Cancel {
        garment: u8,
        to_shelf: Option<i64>,
    },
    Undo {
        booking: u8,
    },
}

/// `thousandths` of `whole`, rounded down.
pub fn part(thousandths: Length, whole: i64) -> Quantity {
    q(thousandths * whole / 1_000)
}

impl Book {
    /// Does one act, or refuses it.
    pub fn act(&mut self, act: &Act) {
        match act {
            Act::Receive {
                length,
                width,
                value,
            } => {
                let full = Micrometres::new(*width).unwrap();
                let rectangle = Rectangle {
                    full,
                    selvedges: Micrometres::new(*width / 50).unwrap(),
                };
                self.receive(*length, Some(rectangle), *value);
            }
            Act::ReceiveTrims { number, value } => self.receive(*number, None, *value),
            Act::Charge { lot, value } => self.charge(*lot, *value),
            Act::Prepare { piece, ppm } => self.prepare(*piece, *ppm),
            Act::Measure { piece, length } => self.measure(*piece, *length),
            Act::Flaw { piece, at, length } => self.mark_flaw(*piece, *at, *length),
            Act::MendFlaw { piece, flaw } => self.mend_flaw(*piece, *flaw),
            Act::Split { piece, length, end } => self.split(*piece, *length, *end),
            Act::Reserve {
                piece,
                length,
                accepted,
                due,
                promised,
            } => {
                let reservation = self.reservations.keys().last().map_or(1, |last| last + 1);
                let (accepted, due, promised) = (*accepted, due.map(day), day(*promised));
                self.reserve(
                    *piece,
                    *length,
                    Rank {
                        accepted,
                        due,
                        promised,
                        reservation,
                    },
                );
            }
            Act::End { choice, expired } => self.end_one(*choice, *expired),
            Act::Cut(cut) => self.cut(cut),
            Act::Finish {
                garment,
                started,
                spoiled,
            } => self.finish(*garment, *started, *spoiled),
            Act::Cancel { garment, to_shelf } => self.cancel(*garment, *to_shelf),
            Act::Undo { booking } => self.undo(*booking),
        }
    }

    fn receive(&mut self, quantity: i64, rectangle: Option<Rectangle>, value: i64) {
        let first = self.movements.len();
        self.paid += i128::from(value);
        let on_piece = if rectangle.is_some() { value } else { 0 };
        let piece = self.shelve(Piece::new(0, q(quantity), rectangle, money(on_piece)), None);
        self.post(
            supplier(),
            Account::piece(piece),
            q(quantity),
            q(quantity),
            money(on_piece),
        );
        let mut layer = None;
        if rectangle.is_none() {
            let receipt = Layer {
                id: piece,
                sequence: piece,
                quantity,
                value: money(value),
            };
            self.layers = receive(&self.layers, self.method, receipt).unwrap();
            let pool = self.layers.iter().any(|layer| layer.id == piece);
            let id = if pool { piece } else { self.layers[0].id };
            self.post(
                supplier(),
                Account::layer(id),
                q(quantity),
                q(quantity),
                money(value),
            );
            layer = Some(id);
        }
        self.count("received");
        self.book(
            Deed::Received {
                piece,
                layer,
                quantity,
                value,
            },
            first,
        );
    }

    /// A late charge or credit on a lot: to its pieces (cloth) or its layer (trims), the rest an adjustment.
    fn charge(&mut self, choice: u8, value: i64) {
        let Some(lot) = self
            .lots
            .keys()
            .copied()
            .nth(usize::from(choice) % self.lots.len().max(1))
        else {
            return;
        };
        let (pieces, came_in) = self.lots[&lot].clone();
        let trims = self.pieces[&lot].rectangle.is_none();
        let here: Vec<(Account, i128)> = if trims {
            let layer = self.layers.iter().find(|layer| layer.id == lot);
            layer
                .map(|layer| (Account::layer(lot), i128::from(layer.quantity)))
                .into_iter()
                .collect()
        } else {
            pieces
                .iter()
                .map(|id| (Account::piece(*id), rules::weight(&self.pieces[id])))
                .collect()
        };
        let total = came_in.max(here.iter().map(|(_, weight)| weight).sum());
        if total == 0 {
            return;
        }
        let spread = spread_late(money(value), &here, total).unwrap();
        let mut parts = spread.parts;
        parts.push((Account::new(AccountKind::Adjustment, 0), spread.adjustment));
        if parts.iter().any(|(account, part)| {
            self.worth(*account)
                .is_some_and(|worth| worth + part.get() < 0)
        }) {
            return;
        }
        let first = self.movements.len();
        self.paid += i128::from(value);
        for (account, part) in &parts {
            self.add_worth(*account, part.get());
            let (from, to) = if part.get() < 0 {
                (*account, supplier())
            } else {
                (supplier(), *account)
            };
            self.post(
                from,
                to,
                Quantity::ZERO,
                Quantity::ZERO,
                money(part.get().abs()),
            );
        }
        let of = |kind| {
            parts
                .iter()
                .filter(move |(a, _)| a.kind == kind)
                .map(|(a, _)| a.id)
                .collect()
        };
        let (pieces, layers) = (of(AccountKind::Piece), of(AccountKind::Layer));
        self.count("charged");
        self.book(Deed::Charged { pieces, layers }, first);
    }

    pub(super) fn worth(&self, account: Account) -> Option<i64> {
        match account.kind {
            AccountKind::Piece => Some(self.pieces[&account.id].value.get()),
            AccountKind::Layer => self
                .layers
                .iter()
                .find(|layer| layer.id == account.id)
                .map(|layer| layer.value.get()),
            _ => None,
        }
    }

    pub(super) fn add_worth(&mut self, account: Account, value: i64) {
        match account.kind {
            AccountKind::Piece => {
                let piece = self.piece(account.id);
                piece.value = piece.value.plus(money(value)).unwrap();
            }
            AccountKind::Layer => {
                let layer = self
                    .layers
                    .iter_mut()
                    .find(|layer| layer.id == account.id)
                    .unwrap();
                layer.value = layer.value.plus(money(value)).unwrap();
            }
            _ => {}
        }
    }

    /// A piece was washed or steamed: it shrinks or grows both ways, and its promises with it.
    fn prepare(&mut self, choice: u8, ppm: i64) {
        let Some(id) = self.pick(choice) else { return };
        let Some(rectangle) = self.pieces[&id].rectangle else {
            return;
        };
        let scaled =
            |length: i64| i64::try_from(i128::from(length) * i128::from(ppm) / 1_000_000).unwrap();
        let quantity = scaled(self.pieces[&id].quantity.get());
        let full = Micrometres::new(scaled(rectangle.full.get())).unwrap();
        let rectangle = Rectangle {
            full,
            selvedges: rectangle.selvedges.min(full),
        };
        if self.remeasure(id, quantity, rectangle, true) {
            self.count("prepared");
        }
    }

    /// A piece was measured or weighed, longer or shorter than it was thought.
    fn measure(&mut self, choice: u8, length: Length) {
        let Some(id) = self.pick(choice) else { return };
        let Some(rectangle) = self.pieces[&id].rectangle else {
            return;
        };
        let quantity = part(length, self.pieces[&id].quantity.get()).get();
        if self.remeasure(id, quantity, rectangle, false) {
            self.count("measured");
        }
    }

    fn remeasure(&mut self, id: i64, quantity: i64, rectangle: Rectangle, scale: bool) -> bool {
        let before = self.pieces[&id].clone();
        if before.quantity.is_zero() {
            return false;
        }
        if self
            .piece(id)
            .remeasure(q(quantity), Some(rectangle), scale)
            .is_err()
        {
            assert_eq!(self.pieces[&id], before, "a refusal changes nothing");
            assert_eq!(quantity, 0, "only nothing is refused");
            return false;
        }
        if scale {
            for hold in before.holds.clone() {
                let held = hold
                    .quantity
                    .scale_down(q(quantity), before.quantity)
                    .unwrap()
                    .get()
                    .max(1);
                self.piece(id)
                    .resize_hold(hold.reservation, q(held))
                    .unwrap();
            }
        }
        let first = self.movements.len();
        self.post_change(id, before.quantity.get(), quantity);
        self.settle(id);
        self.book(
            Deed::Measured {
                piece: id,
                before,
                scale,
            },
            first,
        );
        true
    }

    fn post_change(&mut self, id: i64, before: i64, after: i64) {
        let loss = Account::new(AccountKind::NormalLoss, 0);
        let piece = Account::piece(id);
        let (from, to) = if after < before {
            (piece, loss)
        } else {
            (loss, piece)
        };
        let change = q((after - before).abs());
        self.post(from, to, change, change, money(0));
    }

    fn mark_flaw(&mut self, choice: u8, at: Length, length: Length) {
        let Some(id) = self.pick(choice) else { return };
        let before = self.pieces[&id].clone();
        if before.flaws.len() >= 3 {
            return;
        }
        let whole = before.quantity.get();
        let flaw = Flaw {
            at: part(at, whole).get(),
            length: part(length, whole).get(),
            note: "knot".to_owned(),
        };
        let inside = flaw.at + flaw.length <= whole && before.rectangle.is_some();
        let marked = self.piece(id).mark_flaw(flaw);
        assert_eq!(marked.is_ok(), inside);
        if inside {
            self.settle(id);
            self.count("flawed");
            self.book(Deed::Marked { piece: id }, self.movements.len());
        } else {
            assert_eq!(self.pieces[&id], before, "a refusal changes nothing");
        }
    }

    fn mend_flaw(&mut self, choice: u8, flaw: u8) {
        let Some(id) = self.pick(choice) else { return };
        let promised = self.pieces[&id].holds.len();
        if self.piece(id).remove_flaw(usize::from(flaw)).is_some() {
            self.settle(id);
            assert_eq!(
                self.pieces[&id].holds.len(),
                promised,
                "mending breaks no promise"
            );
            self.count("mended");
            self.book(Deed::Marked { piece: id }, self.movements.len());
        }
    }

    fn split(&mut self, choice: u8, length: Length, end: End) {
        let Some(id) = self.pick(choice) else { return };
        let before = self.pieces[&id].clone();
        let quantity = part(length, before.quantity.get());
        let Ok(made) = self.piece(id).split(quantity, end) else {
            assert_eq!(self.pieces[&id], before, "a refusal changes nothing");
            let promised = !before.holds.is_empty();
            assert!(
                promised || quantity.is_zero() || quantity >= before.quantity,
                "nothing stood in the way"
            );
            return;
        };
        assert_eq!(
            self.pieces[&id].holds.len(),
            before.holds.len(),
            "a split breaks no promise"
        );
        let first = self.movements.len();
        let mut new = Piece::new(0, made.quantity, made.rectangle, made.value);
        new.flaws = made.flaws;
        let new = self.shelve(new, Some(id));
        self.post(
            Account::piece(id),
            Account::piece(new),
            made.quantity,
            made.quantity,
            made.value,
        );
        self.count("split");
        self.book(
            Deed::Split {
                piece: id,
                made: new,
                end,
            },
            first,
        );
    }

    fn reserve(&mut self, choice: u8, length: Length, rank: Rank) {
        let Some(id) = self.pick(choice) else { return };
        let before = self.pieces[&id].clone();
        if before.holds.len() >= 5 {
            return;
        }
        let wanted = part(length, before.longest_free().unwrap().get());
        let fits = before
            .stretches()
            .unwrap()
            .iter()
            .any(|stretch| stretch.free() >= wanted);
        let answer = self.piece(id).reserve(wanted, rank);
        assert_eq!(
            answer.is_ok(),
            fits && !wanted.is_zero(),
            "promised if and only if a stretch has it free"
        );
        match answer {
            Ok(_) => {
                self.reservations.insert(rank.reservation, State::Active);
                self.count("promised");
            }
            Err(_) => assert_eq!(self.pieces[&id], before, "a refusal changes nothing"),
        }
    }

    fn end_one(&mut self, choice: u8, expired: bool) {
        let all: Vec<(i64, i64)> = self
            .pieces
            .values()
            .flat_map(|p| p.holds.iter().map(|hold| (p.id, hold.reservation)))
            .collect();
        let Some((piece, reservation)) = all.get(usize::from(choice) % all.len().max(1)).copied()
        else {
            return;
        };
        self.piece(piece).release(reservation).unwrap();
        self.end(
            reservation,
            if expired {
                State::Expired
            } else {
                State::Released
            },
        );
    }
}
