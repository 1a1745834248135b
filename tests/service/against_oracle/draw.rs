//! Acts made of drawn numbers; what they mean depends on what there is.

use super::bought::{alike, buy};
use super::compare::compare;
use super::real::Real;
use super::requests::shell_length;
use crate::histories::Draw;
use crate::oracle::stock::Stage;
use crate::oracle::{Act, ActId, Gone, History, Key, Kind, Method, PieceId, Refusal};

/// The oracle and the program side by side.
pub struct Driver {
    pub history: History,
    pub real: Real,
}

pub(super) fn pick<T: Copy>(list: &[T], number: u16) -> Option<T> {
    list.get(usize::from(number).checked_rem(list.len())?)
        .copied()
}

impl Driver {
    pub fn new(method: Method) -> Self {
        let mut driver = Self {
            history: History::new(method),
            real: Real::new(method),
        };
        for (name, paid, rate) in [
            ("owner", false, 24_0000),
            ("cutter", true, 21_0000),
            ("stitcher", true, 17_3333),
        ] {
            let person = driver.history.acts.len();
            driver.real.persons.insert(person, name.to_owned());
            driver.book(Act::Person { paid }).unwrap();
            driver
                .book(Act::Pay {
                    person,
                    per_hour: rate,
                    from: Some(-20),
                })
                .unwrap();
        }
        driver
            .book(Act::Overhead {
                cost: 85_00,
                hours: 13,
                from: Some(-20),
            })
            .unwrap();
        driver.book(Act::Plan { count: 2 }).unwrap();
        driver
    }

    /// Books one act, or undoes one, on both sides and compares them.
    pub fn act(&mut self, (kind, a, b, c): Draw) -> Result<(), String> {
        match kind % 32 {
            0..=3 => self.book(buy(a, b, c)),
            4..=6 => self.charge(a, b, c),
            7 | 8 => self.book(Act::Plan {
                count: i128::from(a % 3) + 1,
            }),
            9..=14 => self.cut(a, b, c),
            15 | 16 => self.resize(a, b),
            17 | 18 => self.promise(a, b),
            19..=21 => self.work(a, b, c),
            22..=24 => self.end(a, b, c),
            25 => self.leave(a, b, c),
            _ => self.undo(a),
        }
    }

    /// What the oracle refuses, the program refuses too; what it allows is done, and every balance is the same.
    pub(super) fn book(&mut self, act: Act) -> Result<(), String> {
        let id = self.history.acts.len();
        let mut after = self.history.clone();
        let right = after.book(act.clone());
        if right == Err(Refusal::Negative) {
            return Ok(());
        }
        let cuts = self.cuts_of(&act);
        let seen = self.real.send(&self.history.acts, id, &act, &cuts);
        match (right, seen) {
            (Ok(_), Ok(())) => {
                self.history = after;
                compare(&self.real, &self.history)
            }
            (Err(_), Err(_)) => Ok(()),
            (Ok(_), Err(problem)) => Err(format!(
                "refused, though the text allows it: {}",
                problem.detail
            )),
            (Err(why), Ok(())) => Err(format!("accepted, though the text refuses it: {why:?}")),
        }
    }

    /// The cuts that lie in a garment that is given up.
    fn cuts_of(&self, act: &Act) -> Vec<(ActId, PieceId, i128)> {
        let Act::Cancel { garment, .. } = act else {
            return Vec::new();
        };
        let mut cuts: Vec<(ActId, PieceId, i128)> = Vec::new();
        for take in &self.history.stock.garments[garment].takes {
            match cuts.last_mut() {
                Some((cut, _, quantity)) if *cut == take.act => *quantity += take.content.quantity,
                _ => cuts.push((take.act, take.piece, take.content.quantity)),
            }
        }
        cuts
    }

    fn charge(&mut self, a: u16, b: u16, c: u16) -> Result<(), String> {
        let bought: Vec<ActId> = self.history.stock.landed.keys().copied().collect();
        let Some(purchase) = pick(&bought, a) else {
            return self.book(buy(a, b, c));
        };
        let Act::Buy { lines, .. } = &self.history.acts[purchase] else {
            return Ok(());
        };
        let key = if b.is_multiple_of(3) && alike(lines) {
            Key::Quantity
        } else {
            Key::Value
        };
        let amount = i128::from(c % 1_500) + 1;
        let amount = if b.is_multiple_of(4) {
            -amount / 8 - 1
        } else {
            amount
        };
        self.book(Act::Charge {
            purchase,
            key,
            amount,
        })
    }

    pub(super) fn open(&self) -> Vec<ActId> {
        let garments = self.history.stock.garments.iter();
        garments
            .filter(|(_, made)| made.stage == Stage::Open)
            .map(|(id, _)| *id)
            .collect()
    }

    fn lying(&self, of: impl Fn(Kind) -> bool) -> Vec<PieceId> {
        let pieces = self.history.stock.pieces.iter();
        pieces
            .filter(|(_, piece)| piece.quantity > 0 && of(piece.kind))
            .map(|(id, _)| *id)
            .collect()
    }

    fn promised(&self, garment: ActId) -> bool {
        self.history
            .stock
            .pieces
            .values()
            .any(|piece| piece.promised.values().any(|(of, _)| *of == garment))
    }

    fn cut(&mut self, a: u16, b: u16, c: u16) -> Result<(), String> {
        let Some(piece) = pick(&self.lying(|_| true), b) else {
            return self.book(buy(a, b, c));
        };
        let Some(garment) = pick(&self.open(), a) else {
            return self.book(Act::Plan { count: 1 });
        };
        let found = &self.history.stock.pieces[&piece];
        // A garment with a promise would cut from that.
        if found.kind == Kind::Cloth && self.promised(garment) {
            return Ok(());
        }
        let quantity = self.some_of(piece, c);
        self.book(Act::Cut {
            garment,
            piece,
            quantity,
            mistake: a.is_multiple_of(5),
        })
    }

    fn leave(&mut self, a: u16, b: u16, c: u16) -> Result<(), String> {
        let Some(piece) = pick(&self.lying(|_| true), b) else {
            return self.book(buy(a, b, c));
        };
        let all = [Gone::Given, Gone::OwnUse, Gone::Sold, Gone::Discarded];
        let quantity = self.some_of(piece, c);
        self.book(Act::Leave {
            piece,
            quantity,
            to: all[usize::from(a % 4)],
        })
    }

    /// All of a piece, more than all of it, or a part.
    fn some_of(&self, piece: PieceId, c: u16) -> i128 {
        let found = &self.history.stock.pieces[&piece];
        match c % 8 {
            0 => found.quantity,
            1 => found.quantity + 1,
            _ if found.material == 2 => (found.quantity * i128::from(c % 61) / 100).max(1),
            _ => (found.quantity * i128::from(c % 61) / 100 / 1_000).max(1) * 1_000,
        }
    }

    fn resize(&mut self, a: u16, b: u16) -> Result<(), String> {
        let cloth = b.is_multiple_of(2);
        let Some(piece) = pick(&self.lying(|kind| (kind == Kind::Cloth) == cloth), a) else {
            return Ok(());
        };
        let quantity = self.history.stock.pieces[&piece].quantity;
        if cloth {
            let length = (quantity * (1_000 - i128::from(b % 90)) / 1_000 / 1_000).max(1) * 1_000;
            let keeps = length >= self.history.stock.pieces[&piece].promised();
            return if keeps {
                self.book(Act::Wash { piece, length })
            } else {
                Ok(())
            };
        }
        let step = if self.history.stock.pieces[&piece].material == 2 {
            1
        } else {
            1_000
        };
        let quantity = (quantity * (70 + i128::from(b % 41)) / 100 / step).max(1) * step;
        self.measure(piece, quantity)
    }

    /// A count that would empty the piece's own layer would take from others: the text does not say how.
    fn measure(&mut self, piece: PieceId, quantity: i128) -> Result<(), String> {
        let mut after = self.history.clone();
        let fits = after.book(Act::Measure { piece, quantity }).is_ok()
            && after
                .stock
                .places
                .values()
                .all(|place| place.quantity > 0 || place.value == 0);
        if fits {
            self.book(Act::Measure { piece, quantity })
        } else {
            Ok(())
        }
    }

    fn promise(&mut self, a: u16, b: u16) -> Result<(), String> {
        let made: Vec<ActId> = self
            .history
            .stock
            .pieces
            .values()
            .flat_map(|piece| piece.promised.keys().copied())
            .collect();
        if let (Some(reservation), true) = (pick(&made, a), b.is_multiple_of(3)) {
            return self.book(Act::Release { reservation });
        }
        let free = |garment: &ActId| {
            let cut = |act: &Act| matches!(act, Act::Cut { garment: of, .. } if of == garment);
            !self.promised(*garment) && !self.history.standing(0).any(|(_, act)| cut(act))
        };
        let garments: Vec<ActId> = self.open().into_iter().filter(free).collect();
        let pieces = self.lying(|kind| kind == Kind::Cloth);
        let Some(piece) = pick(&pieces, b) else {
            return Ok(());
        };
        let Some(garment) = pick(&garments, a) else {
            return self.book(Act::Plan { count: 1 });
        };
        self.book(Act::Reserve {
            garment,
            piece,
            length: shell_length(garment) + 40_000,
        })
    }
}
