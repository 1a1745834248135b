//! A book in memory: pieces, cost layers, promises and garments, with every act booked as movements.

mod acts;
mod closing;
mod cutting;
mod rules;
mod undo;

pub use acts::{Act, Length};
pub use cutting::CutAct;

use super::{day, money, q};
use ellwand_domain::{
    layer::{Layer, Method, Taken},
    ledger::{Account, AccountKind, CutEffect, Movement, Piece, Quantity, Rank},
    quantity::Millionths,
    setting::End,
};
use std::collections::BTreeMap;
use std::ops::Range;

/// How a reservation stands; it leaves `Active` once.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    Active,
    Cut,
    Released,
    Expired,
    Broken,
}

/// What was booked, with what taking it back needs.
#[derive(Debug, Clone)]
pub enum Deed {
    Received {
        piece: i64,
        layer: Option<i64>,
        quantity: i64,
        value: i64,
    },
    Charged {
        pieces: Vec<i64>,
        layers: Vec<i64>,
    },
    Measured {
        piece: i64,
        before: Piece,
        scale: bool,
    },
    Split {
        piece: i64,
        made: i64,
        end: End,
    },
    Cut(Box<CutDeed>),
    Closed {
        garment: i64,
        made: Option<i64>,
    },
    /// A flaw was marked or mended: no movements, nothing to take back.
    Marked {
        piece: i64,
    },
    Undone {
        of: usize,
    },
}

#[derive(Debug, Clone)]
pub struct CutDeed {
    piece: i64,
    before: Piece,
    quantity: Quantity,
    effect: CutEffect,
    reservation: Option<i64>,
    garment: i64,
    strip: Option<i64>,
    outer: Option<i64>,
    taken: Vec<Taken>,
}

#[derive(Debug, Clone)]
pub struct Booking {
    deed: Deed,
    movements: Range<usize>,
    undone: bool,
}

#[derive(Debug)]
pub struct Book {
    pub movements: Vec<Movement>,
    pub bookings: Vec<Booking>,
    pub pieces: BTreeMap<i64, Piece>,
    pub layers: Vec<Layer>,
    pub method: Method,
    pub reservations: BTreeMap<i64, State>,
    /// True while it is open.
    pub garments: BTreeMap<i64, bool>,
    /// Of each received piece: which pieces are of its lot, and how much came in (area or number).
    pub lots: BTreeMap<i64, (Vec<i64>, i128)>,
    /// Paid to suppliers in all, from the acts alone.
    pub paid: i128,
    /// How often each thing really happened.
    pub tally: BTreeMap<&'static str, u32>,
}

impl Book {
    pub fn new(method: Method) -> Self {
        Self {
            movements: Vec::new(),
            bookings: Vec::new(),
            pieces: BTreeMap::new(),
            layers: Vec::new(),
            method,
            reservations: BTreeMap::new(),
            garments: [(1, true), (2, true), (3, true)].into(),
            lots: BTreeMap::new(),
            paid: 0,
            tally: BTreeMap::new(),
        }
    }

    fn count(&mut self, what: &'static str) {
        *self.tally.entry(what).or_default() += 1;
    }

    fn piece(&mut self, id: i64) -> &mut Piece {
        self.pieces.get_mut(&id).unwrap()
    }

    fn pick(&self, choice: u8) -> Option<i64> {
        let ids: Vec<i64> = self.pieces.keys().copied().collect();
        (!ids.is_empty()).then(|| ids[usize::from(choice) % ids.len()])
    }

    fn open_garment(&self, choice: u8) -> Option<i64> {
        let open: Vec<i64> = self
            .garments
            .iter()
            .filter(|(_, open)| **open)
            .map(|(id, _)| *id)
            .collect();
        (!open.is_empty()).then(|| open[usize::from(choice) % open.len()])
    }

    /// Puts a new piece on the shelf, of the lot of `parent` or of a new one, and returns its number.
    fn shelve(&mut self, mut piece: Piece, parent: Option<i64>) -> i64 {
        let id = self.pieces.keys().last().map_or(1, |last| last + 1);
        piece.id = id;
        let area = rules::weight(&piece);
        self.pieces.insert(id, piece);
        match parent {
            Some(parent) => {
                let (pieces, _) = self
                    .lots
                    .values_mut()
                    .find(|(pieces, _)| pieces.contains(&parent))
                    .unwrap();
                pieces.push(id);
            }
            None => drop(self.lots.insert(id, (vec![id], area))),
        }
        id
    }

    fn post(
        &mut self,
        from: Account,
        to: Account,
        out: Quantity,
        into: Quantity,
        value: Millionths,
    ) {
        assert!(value.get() >= 0, "a movement carries no negative value");
        self.movements.push(Movement {
            from,
            to,
            quantity_out: out,
            quantity_in: into,
            value,
        });
    }

    fn book(&mut self, deed: Deed, first: usize) {
        let movements = first..self.movements.len();
        self.bookings.push(Booking {
            deed,
            movements,
            undone: false,
        });
    }

    /// Ends a reservation; a second end is a failure.
    fn end(&mut self, reservation: i64, how: State) {
        let before = self.reservations.insert(reservation, how);
        assert_eq!(before, Some(State::Active), "R{reservation} ends once");
        self.count(match how {
            State::Broken => "broken",
            State::Cut => "ended by a cut",
            State::Released => "released",
            _ => "expired",
        });
    }

    /// Settles a piece after an act and holds the answer against rule 6.
    fn settle(&mut self, id: i64) {
        let piece = self.piece(id);
        let mut waiting = piece.holds.clone();
        waiting.sort_by_key(|hold| hold.rank);
        let expected = rules::breaks(&rules::stretch_lengths(&[piece]), &waiting);
        let broken = piece.settle().unwrap();
        assert_eq!(
            broken, expected,
            "broken are those that do not fit, in the order"
        );
        assert_eq!(
            piece.holds.len() + broken.len(),
            waiting.len(),
            "nothing vanishes"
        );
        for reservation in broken {
            self.end(reservation, State::Broken);
        }
    }
}

fn supplier() -> Account {
    Account::new(AccountKind::Supplier, 0)
}
