//! Taking a cut back: the cloth returns to its piece, the value with it.

use super::{Case, Effect, cannot};
use crate::{detail::CutDetail, failure::Done, pooled, promises, shelved::Shelved};
use ellwand_domain::{
    layer::Taken,
    ledger::{Account, AccountKind, Movement, Piece, Quantity},
    quantity::Millionths,
    setting::{BookingKind, End, GarmentState, PriceFrom, ReservationState},
};
use ellwand_storage::{Garment, Tx, Word};

impl Case<'_, '_> {
    pub(super) fn cut(&self, tx: &mut Tx<'_>, cut: &CutDetail) -> Done<Effect> {
        let mut garment = self.garment_open(tx, cut.garment)?;
        self.not_agreed(tx, cut.garment, PriceFrom::Actual)?;
        let mut shelved = Shelved::load_row(tx, cut.piece)?;
        self.unchanged(tx, &shelved, cut.structure)?;
        let lots = self.lots_moved(tx)?;
        self.uncharged(tx, &lots)?;
        if cut.outer.is_some() {
            // A later cut would have nothing to return to.
            self.uncut_since(tx, &shelved)?;
        }
        promises::end_overdue(tx, self.context, self.booking, &mut shelved)?;
        let mut value = self.value_from_piece(cut.piece)?;
        for made in [cut.strip, cut.outer].into_iter().flatten() {
            value = value.minus(self.value_to_piece(made)?)?;
        }
        let strip_value = self.withdraw(tx, cut.strip)?;
        let (outer, outer_value) = self.withdraw_outer(tx, cut.outer)?;
        let back = |error| promises::internal(&shelved, &error);
        let mut piece = shelved.stored.piece.clone();
        // A rest that was waste came off with the cut: it returns with it.
        let quantity = Quantity::new(cut.quantity.saturating_add(cut.wasted))?;
        let returned = value.plus(strip_value)?;
        piece
            .put_back(quantity, returned, cut.came_off, &cut.flaws)
            .map_err(back)?;
        if let Some(outer) = &outer {
            piece
                .put_back(
                    outer.piece.quantity,
                    outer_value,
                    End::Outer,
                    &outer.piece.flaws,
                )
                .map_err(back)?;
        }
        self.measured_back(&mut piece, cut, &shelved)?;
        shelved.stored.piece = piece;
        if cut.outer.is_some() {
            shelved.stored.structure = cut.structure - 1;
        }
        self.layers_back(tx, &shelved)?;
        let mut effect = Effect {
            movements: self.reversed(),
            ..Effect::default()
        };
        // Promises that the cut had moved to the outer part come back with it.
        if let Some(outer) = &outer {
            shelved
                .stored
                .piece
                .holds
                .extend(outer.piece.holds.iter().cloned());
        }
        // What is promised and cut is counted without it from here on.
        tx.mark_cut_undone(self.target.id, self.booking)?;
        let last_on = shelved.stored.last_on.max(self.context.today);
        if outer.is_some() {
            let broken = shelved
                .stored
                .piece
                .settle()
                .map_err(|error| promises::internal(&shelved, &error))?;
            promises::break_all(
                tx,
                self.booking,
                &broken,
                &format!("{} was taken back", self.code()),
            )?;
            effect.broken.extend(broken);
        }
        shelved.save(tx, last_on)?;
        promises::write_holds(tx, &shelved)?;
        // First what was drawn from a promise that goes on, and what others gave up, then the promises that the cut ended.
        let elsewhere = self.drawn_elsewhere(tx, cut)?;
        self.settle_again(tx, cut.piece, &mut effect)?;
        if let Some(piece) = elsewhere {
            self.settle_again(tx, piece, &mut effect)?;
        }
        self.promises_back(tx, cut, &mut effect)?;
        self.planned_only(tx, &mut garment)?;
        Ok(effect)
    }

    /// A garment from which nothing is cut any more, and that took nothing over, is only planned again.
    pub(super) fn planned_only(&self, tx: &mut Tx<'_>, garment: &mut Garment) -> Done<()> {
        if garment.state.0 != GarmentState::CutInto
            || !self
                .other_bookings(tx, garment.id, &[BookingKind::Cut])?
                .is_empty()
        {
            return Ok(());
        }
        let account = Account::garment(garment.id);
        let given = |line: &Movement| line.to == account && line.from.kind == AccountKind::Garment;
        if self.standing(tx, account, given)?.is_empty() {
            garment.state = Word(GarmentState::Planned);
            tx.update_garment(garment)?;
        }
        Ok(())
    }

    /// What `piece_was` had corrected is as the book had it: the difference lies at the inner end.
    fn measured_back(&self, piece: &mut Piece, cut: &CutDetail, shelved: &Shelved) -> Done<()> {
        let measured = cut.measured;
        let back = |error| promises::internal(shelved, &error);
        if measured < 0 {
            let missing = Quantity::new(measured.saturating_neg())?;
            piece
                .put_back(missing, Millionths::ZERO, End::Inner, &cut.flaws_beyond)
                .map_err(back)?;
        } else if measured > 0 {
            let left = piece.quantity.less(Quantity::new(measured)?);
            piece
                .remeasure(left, piece.rectangle, false)
                .map_err(back)?;
            if !piece.settle().map_err(back)?.is_empty() {
                let detail = format!("what was found of {} is promised since", shelved.code());
                return Err(cannot(detail, "release that promise first"));
            }
        }
        Ok(())
    }

    /// Value that left the piece by this booking.
    fn value_from_piece(&self, piece: i64) -> Done<Millionths> {
        let out = self
            .movements
            .iter()
            .filter(|movement| {
                movement.from.kind == AccountKind::Piece && movement.from.id == piece
            })
            .map(|movement| movement.value);
        Ok(Millionths::sum(out)?)
    }

    fn value_to_piece(&self, piece: i64) -> Done<Millionths> {
        let back = self
            .movements
            .iter()
            .filter(|movement| movement.to.kind == AccountKind::Piece && movement.to.id == piece)
            .map(|movement| movement.value);
        Ok(Millionths::sum(back)?)
    }

    /// Empties a strip that the cut had made, if nobody has touched it; returns its value.
    pub(super) fn withdraw(&self, tx: &mut Tx<'_>, made: Option<i64>) -> Done<Millionths> {
        let Some(id) = made else {
            return Ok(Millionths::ZERO);
        };
        let mut shelved = Shelved::load_row(tx, id)?;
        self.untouched(tx, &shelved)?;
        if !shelved.stored.piece.holds.is_empty() {
            return Err(cannot(
                format!("the offcut {} is promised", shelved.code()),
                "release that promise first",
            ));
        }
        let value = shelved.stored.piece.value;
        empty(&mut shelved);
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        Ok(value)
    }

    /// Empties the outer part that the cut had made into a piece; its promises go back with it.
    fn withdraw_outer(
        &self,
        tx: &mut Tx<'_>,
        made: Option<i64>,
    ) -> Done<(Option<ellwand_storage::StoredPiece>, Millionths)> {
        let Some(id) = made else {
            return Ok((None, Millionths::ZERO));
        };
        let mut shelved = Shelved::load_row(tx, id)?;
        self.untouched(tx, &shelved)?;
        let (stored, value) = (shelved.stored.clone(), shelved.stored.piece.value);
        empty(&mut shelved);
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        Ok((Some(stored), value))
    }

    /// Refuses when a piece that this booking made is not as it was made.
    pub(super) fn untouched(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<()> {
        self.uncut(tx, shelved)?;
        let id = shelved.stored.piece.id;
        if self.value_to_piece(id)? == shelved.stored.piece.value {
            return Ok(());
        }
        let detail = format!(
            "the value of {} was changed by a late charge or credit since",
            shelved.code()
        );
        Err(cannot(detail, "take that back first"))
    }

    /// Refuses when a piece that this booking made was cut or reshaped.
    pub(super) fn uncut(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<()> {
        let id = shelved.stored.piece.id;
        let made = self
            .movements
            .iter()
            .find(|movement| movement.to.kind == AccountKind::Piece && movement.to.id == id)
            .map_or(Quantity::ZERO, |movement| movement.quantity_in);
        if shelved.stored.piece.quantity == made && shelved.stored.structure == 0 {
            return Ok(());
        }
        let first = match self.moved_since(tx, Account::piece(id))? {
            Some(first) => Some(first),
            None => self.reshaped_since(tx, shelved)?,
        };
        let by = first
            .map(|first| format!(", by {first}"))
            .unwrap_or_default();
        Err(cannot(
            format!("{} was used or changed since{by}", shelved.code()),
            "take that back first",
        ))
    }

    /// Gives thread and trims back to their layers.
    fn layers_back(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<()> {
        let taken: Vec<Taken> = self
            .movements
            .iter()
            .filter(|movement| movement.from.kind == AccountKind::Layer)
            .map(|movement| Taken {
                layer: movement.from.id,
                quantity: movement.quantity_out.get(),
                value: movement.value,
            })
            .collect();
        if taken.is_empty() {
            return Ok(());
        }
        pooled::put_back(tx, shelved.record.material.id, &taken)
    }

    /// The other piece that the promise which was drawn from lies on now.
    fn drawn_elsewhere(&self, tx: &mut Tx<'_>, cut: &CutDetail) -> Done<Option<i64>> {
        let Some(id) = cut.reservation else {
            return Ok(None);
        };
        let row = promises::row(tx, id)?;
        let row = promises::last_for(tx, row)?;
        let active = row.state.0 == ReservationState::Active;
        Ok(Some(row.piece_id).filter(|piece| active && *piece != cut.piece))
    }

    /// Makes promises that the cut had ended or broken again, and the one that it was drawn from where a later cut ended it; under
    /// new codes, where there is room.
    fn promises_back(&self, tx: &mut Tx<'_>, cut: &CutDetail, effect: &mut Effect) -> Done<()> {
        if let Some(id) = cut.reservation.filter(|_| cut.drawn > 0) {
            let row = promises::row(tx, id)?;
            let last = promises::last_for(tx, row)?;
            if last.state.0 == ReservationState::Cut {
                let again = promises::promise_again(tx, self.context, self.booking, &last)?;
                effect.made_again(&last, again);
            }
        }
        for ended in tx.reservations_ended_by(self.target.id)? {
            if ended.state.0 == ReservationState::Broken {
                let again = self.promise_again(tx, &ended)?;
                effect.made_again(&ended, again);
            }
        }
        Ok(())
    }
}

/// Nothing is left of a piece that was made by a booking which is taken back.
pub(super) fn empty(shelved: &mut Shelved) {
    let piece = &mut shelved.stored.piece;
    piece.quantity = Quantity::ZERO;
    piece.value = Millionths::ZERO;
    piece.flaws.clear();
    piece.holds.clear();
}
