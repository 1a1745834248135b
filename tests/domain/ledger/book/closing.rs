//! Garments that are finished or cancelled.

use super::{Book, Deed, money, q};
use ellwand_domain::{
    ledger::{Account, AccountKind, Piece, Quantity, Rectangle},
    quantity::{Micrometres, Millionths},
};

impl Book {
    fn garment_value(&self, garment: i64) -> Millionths {
        let account = Account::garment(garment);
        let into = self
            .movements
            .iter()
            .filter(|m| m.to == account)
            .map(|m| m.value.get());
        let out = self
            .movements
            .iter()
            .filter(|m| m.from == account)
            .map(|m| m.value.get());
        money(into.sum::<i64>() - out.sum::<i64>())
    }

    /// Handed over, the spoiled ones lost at their share.
    pub fn finish(&mut self, choice: u8, started: i64, spoiled: i64) {
        let Some(garment) = self.open_garment(choice) else {
            return;
        };
        let first = self.movements.len();
        let value = self.garment_value(garment);
        let lost = value.share(spoiled, started).unwrap();
        let from = Account::garment(garment);
        let none = Quantity::ZERO;
        self.post(
            from,
            Account::new(AccountKind::Spoiled, garment),
            none,
            none,
            lost,
        );
        self.post(
            from,
            Account::new(AccountKind::Delivered, garment),
            none,
            none,
            value.minus(lost).unwrap(),
        );
        self.garments.insert(garment, false);
        self.count("finished");
        self.book(
            Deed::Closed {
                garment,
                made: None,
            },
            first,
        );
    }

    /// Given up: its cloth goes back to the shelf as one piece, or all of it is a loss.
    pub fn cancel(&mut self, choice: u8, to_shelf: Option<i64>) {
        let Some(garment) = self.open_garment(choice) else {
            return;
        };
        let first = self.movements.len();
        let value = self.garment_value(garment);
        let from = Account::garment(garment);
        let made = to_shelf.map(|length| {
            let full = Micrometres::from_mm(300);
            let rectangle = Rectangle {
                full,
                selvedges: Micrometres::ZERO,
            };
            let made = self.shelve(Piece::new(0, q(length), Some(rectangle), value), None);
            self.post(from, Account::piece(made), q(length), q(length), value);
            made
        });
        if made.is_none() {
            let lost = Account::new(AccountKind::Abandoned, garment);
            self.post(from, lost, Quantity::ZERO, Quantity::ZERO, value);
        }
        self.garments.insert(garment, false);
        self.count("cancelled");
        self.book(Deed::Closed { garment, made }, first);
    }
}
