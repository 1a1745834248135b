//! Undo: the opposite movements, refused only where later acts depend on what was booked.

use super::{Book, CutDeed, Deed, Piece, Quantity, State, money};
use ellwand_domain::{layer::put_back, quantity::Millionths, setting::End};

impl Deed {
    fn touches(&self, piece: i64) -> bool {
        match self {
            Self::Received { piece: own, .. } | Self::Measured { piece: own, .. } => *own == piece,
            Self::Charged { pieces, .. } => pieces.contains(&piece),
            Self::Split {
                piece: own, made, ..
            } => *own == piece || *made == piece,
            Self::Cut(cut) => {
                cut.piece == piece || cut.strip == Some(piece) || cut.outer == Some(piece)
            }
            Self::Closed { made, .. } => *made == Some(piece),
            Self::Marked { .. } | Self::Undone { .. } => false,
        }
    }

    fn touches_layer(&self, layer: i64) -> bool {
        match self {
            Self::Received { layer: own, .. } => *own == Some(layer),
            Self::Charged { layers, .. } => layers.contains(&layer),
            Self::Cut(cut) => cut.taken.iter().any(|taken| taken.layer == layer),
            _ => false,
        }
    }

    /// The piece became another one: measured, prepared or split.
    fn reshapes(&self, piece: i64) -> bool {
        matches!(self, Self::Measured { .. } | Self::Split { .. }) && self.touches(piece)
    }
}

impl Book {
    pub fn undo(&mut self, choice: u8) {
        if self.bookings.is_empty() {
            return;
        }
        let index = usize::from(choice) % self.bookings.len();
        let booking = self.bookings[index].clone();
        let done = !booking.undone
            && match &booking.deed {
                Deed::Received {
                    piece,
                    layer,
                    quantity,
                    value,
                } => self.undo_receipt(index, *piece, *layer, *quantity, *value),
                Deed::Charged { pieces, layers } => self.undo_charge(index, pieces, layers),
                Deed::Measured {
                    piece,
                    before,
                    scale,
                } => self.undo_measure(index, *piece, before, *scale),
                Deed::Split { piece, made, end } => self.undo_split(index, *piece, *made, *end),
                Deed::Cut(cut) => self.undo_cut(index, cut),
                Deed::Closed { garment, made } => self.undo_closing(index, *garment, *made),
                Deed::Marked { .. } | Deed::Undone { .. } => false,
            };
        if !done {
            return;
        }
        self.bookings[index].undone = true;
        let first = self.movements.len();
        let opposite: Vec<_> = self.movements[booking.movements]
            .iter()
            .map(|m| m.reversed())
            .collect();
        self.movements.extend(opposite);
        self.book(Deed::Undone { of: index }, first);
    }

    fn later(&self, index: usize, depends: impl Fn(&Deed) -> bool) -> bool {
        self.bookings[index + 1..]
            .iter()
            .any(|booking| !booking.undone && depends(&booking.deed))
    }

    /// Nothing was booked or marked on the piece since, and nothing of it taken back.
    fn is_last_of(&self, index: usize, piece: i64) -> bool {
        !self.bookings[index + 1..]
            .iter()
            .any(|booking| match &booking.deed {
                Deed::Undone { of } => self.bookings[*of].deed.touches(piece),
                Deed::Marked { piece: marked } => *marked == piece,
                deed => deed.touches(piece),
            })
    }

    fn untouched(&self, index: usize, piece: i64) -> bool {
        self.pieces[&piece].holds.is_empty() && !self.later(index, |deed| deed.touches(piece))
    }

    fn clear(&mut self, piece: i64) {
        let piece = self.piece(piece);
        (piece.quantity, piece.value) = (Quantity::ZERO, Millionths::ZERO);
        piece.flaws.clear();
        piece.holds.clear();
    }

    fn undo_receipt(
        &mut self,
        index: usize,
        piece: i64,
        layer: Option<i64>,
        quantity: i64,
        value: i64,
    ) -> bool {
        let used = layer.is_some_and(|layer| self.later(index, |deed| deed.touches_layer(layer)));
        if used || !self.untouched(index, piece) {
            return false;
        }
        self.clear(piece);
        if let Some(id) = layer {
            let layer = self.layers.iter_mut().find(|layer| layer.id == id).unwrap();
            layer.quantity -= quantity;
            layer.value = layer.value.minus(money(value)).unwrap();
        }
        self.paid -= i128::from(value);
        self.count("undone: receipt");
        true
    }

    fn undo_charge(&mut self, index: usize, pieces: &[i64], layers: &[i64]) -> bool {
        let touched = |deed: &Deed| {
            pieces.iter().any(|piece| deed.touches(*piece))
                || layers.iter().any(|layer| deed.touches_layer(*layer))
        };
        if self.later(index, touched) {
            return false;
        }
        for n in self.bookings[index].movements.clone() {
            let movement = self.movements[n];
            let value = movement.value.get();
            self.add_worth(movement.to, -value);
            self.add_worth(movement.from, value);
            let bought = if movement.from == super::supplier() {
                value
            } else {
                -value
            };
            self.paid -= i128::from(bought);
        }
        self.count("undone: charge");
        true
    }

    fn undo_measure(&mut self, index: usize, piece: i64, before: &Piece, scale: bool) -> bool {
        if self.later(index, |deed| deed.touches(piece)) {
            return false;
        }
        self.piece(piece)
            .remeasure(before.quantity, before.rectangle, scale)
            .unwrap();
        self.settle(piece);
        self.count("undone: measure");
        true
    }

    fn undo_split(&mut self, index: usize, piece: i64, made: i64, end: End) -> bool {
        if !self.untouched(index, made) || self.later(index, |deed| deed.reshapes(piece)) {
            return false;
        }
        let part = self.pieces[&made].clone();
        self.piece(piece)
            .put_back(part.quantity, part.value, end, &part.flaws)
            .unwrap();
        self.clear(made);
        self.keeps_all(piece);
        self.count("undone: split");
        true
    }

    fn undo_cut(&mut self, index: usize, cut: &CutDeed) -> bool {
        let strip_used = cut.strip.is_some_and(|strip| !self.untouched(index, strip));
        let outer_used = cut
            .outer
            .is_some_and(|outer| self.later(index, |deed| deed.touches(outer)));
        let reshaped = self.later(index, |deed| deed.reshapes(cut.piece));
        if strip_used || outer_used || reshaped || !self.garments[&cut.garment] {
            return false;
        }
        let parts = [Some(cut.piece), cut.outer];
        let fresh = parts
            .into_iter()
            .flatten()
            .all(|piece| self.is_last_of(index, piece));
        let strip = cut
            .strip
            .map_or(Millionths::ZERO, |strip| self.pieces[&strip].value);
        let quantity = cut.quantity.plus(cut.effect.wasted).unwrap();
        let value = cut.effect.value.plus(strip).unwrap();
        self.piece(cut.piece)
            .put_back(quantity, value, cut.effect.came_off, &cut.effect.flaws)
            .unwrap();
        if let Some(outer) = cut.outer {
            let outer = self.pieces[&outer].clone();
            let piece = self.piece(cut.piece);
            piece
                .put_back(outer.quantity, outer.value, End::Outer, &outer.flaws)
                .unwrap();
            piece.holds.extend(outer.holds);
        }
        for made in [cut.strip, cut.outer].into_iter().flatten() {
            self.clear(made);
        }
        self.keeps_all(cut.piece);
        self.restore_promise(cut);
        self.layers = put_back(&self.layers, &cut.taken).unwrap();
        if fresh {
            let piece = &self.pieces[&cut.piece];
            assert_eq!(
                (piece.quantity, piece.value),
                (cut.before.quantity, cut.before.value)
            );
            assert_eq!(
                piece.flaws, cut.before.flaws,
                "flaws come back to their places"
            );
            self.count("undone: last cut of its piece");
        }
        self.count("undone: cut");
        true
    }

    /// Putting back never breaks a promise.
    fn keeps_all(&mut self, id: i64) {
        let piece = self.piece(id);
        let places: Vec<(i64, usize)> = piece
            .holds
            .iter()
            .map(|hold| (hold.reservation, hold.stretch))
            .collect();
        assert_eq!(
            piece.settle().unwrap(),
            Vec::<i64>::new(),
            "putting back never breaks a promise"
        );
        for (reservation, stretch) in places {
            assert_eq!(
                piece.hold(reservation).unwrap().stretch,
                stretch,
                "R{reservation} stays where it was"
            );
        }
    }

    /// What was drawn goes back to a promise that is still there, if it fits.
    fn restore_promise(&mut self, cut: &CutDeed) {
        let Some(reservation) = cut.reservation else {
            return;
        };
        if self.reservations[&reservation] != State::Active {
            return;
        }
        let Some(held) = self.pieces[&cut.piece]
            .hold(reservation)
            .map(|hold| hold.quantity)
        else {
            return;
        };
        let mut piece = self.pieces[&cut.piece].clone();
        piece
            .resize_hold(reservation, held.plus(cut.effect.drawn).unwrap())
            .unwrap();
        if piece.settle().unwrap().is_empty() {
            self.pieces.insert(cut.piece, piece);
            self.count("undone: drawn goes back");
        }
    }

    fn undo_closing(&mut self, index: usize, garment: i64, made: Option<i64>) -> bool {
        if made.is_some_and(|made| !self.untouched(index, made)) {
            return false;
        }
        if let Some(made) = made {
            self.clear(made);
        }
        self.garments.insert(garment, true);
        self.count("undone: closing");
        true
    }
}
