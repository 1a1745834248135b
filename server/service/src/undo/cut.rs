//! Taking a cut back: the cloth returns to its piece, the value with it.

use super::{Case, Effect, cannot};
use crate::{detail::CutDetail, failure::Done, pooled, promises, shelved::Shelved};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{BookingCode, ReservationCode},
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
        self.set_open(tx, cut)?;
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
        let drawn = self.redraw(tx, cut, &mut shelved, &mut effect)?;
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
        // First the units, then the promises that stand for them.
        self.needs_back(tx, cut)?;
        self.promises_back(tx, cut, drawn, &mut effect)?;
        self.set_back(tx, cut)?;
        self.planned_only(tx, &mut garment)?;
        // What a promise gave up for the cut it holds again.
        self.settle_again(tx, cut.piece, &mut effect)?;
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

    /// Puts what was drawn back on a promise that is still active; true when that was done.
    fn redraw(
        &self,
        tx: &mut Tx<'_>,
        cut: &CutDetail,
        shelved: &mut Shelved,
        effect: &mut Effect,
    ) -> Done<bool> {
        let Some(id) = cut.reservation.filter(|_| cut.drawn > 0) else {
            return Ok(true);
        };
        let row = promises::row(tx, id)?;
        let mut row = promises::last_for(tx, row)?;
        let here = row.piece_id == shelved.stored.piece.id || Some(row.piece_id) == cut.outer;
        if row.state.0 != ReservationState::Active || !here {
            return Ok(false);
        }
        row.piece_id = shelved.stored.piece.id;
        let id = row.id;
        let mut asked = promises::Asked::read(&row)?;
        asked.drawn = asked.drawn.saturating_sub(cut.drawn);
        let held = Quantity::new(row.held.saturating_add(cut.drawn))?;
        shelved
            .stored
            .piece
            .resize_hold(id, held)
            .map_err(|error| promises::internal(shelved, &error))?;
        let broken = shelved
            .stored
            .piece
            .settle()
            .map_err(|error| promises::internal(shelved, &error))?;
        if !broken.is_empty() {
            let codes: Vec<String> = broken
                .iter()
                .map(|id| ReservationCode::new(*id).to_string())
                .collect();
            return Err(Problem::new(
                ProblemType::Internal,
                format!("giving cloth back would break {}", codes.join(", ")),
            )
            .into());
        }
        row.asked = asked.text()?;
        row.held = held.get();
        row.units += cut.units;
        tx.update_reservation(&row)?;
        effect.changed.push(id);
        Ok(true)
    }

    /// Makes promises that the cut had ended or broken again, under new codes, where there is room.
    fn promises_back(
        &self,
        tx: &mut Tx<'_>,
        cut: &CutDetail,
        drawn_back: bool,
        effect: &mut Effect,
    ) -> Done<()> {
        if let Some(id) = cut.reservation.filter(|_| !drawn_back && cut.drawn > 0) {
            let row = promises::row(tx, id)?;
            let last = promises::last_for(tx, row)?;
            if last.state.0 == ReservationState::Cut && last.ended_by != Some(self.target.id) {
                // A later cut ended it: what this one drew is promised again.
                let drawn = promises::Asked::read(&last)?
                    .drawn
                    .saturating_sub(cut.drawn);
                let held = Quantity::new(cut.drawn)?;
                let again = promises::promise_again(
                    tx,
                    self.context,
                    self.booking,
                    &last,
                    held,
                    last.units + cut.units,
                    drawn,
                )?;
                effect.made_again(&last, again);
            }
        }
        for ended in tx.reservations_ended_by(self.target.id)? {
            let own = cut.reservation == Some(ended.id);
            if own && drawn_back {
                continue;
            }
            let again = if own {
                let mut asked = promises::Asked::read(&ended)?;
                asked.drawn = asked.drawn.saturating_sub(cut.drawn);
                let held = Quantity::new(cut.held_before)?;
                let units = ended.units + cut.units;
                promises::promise_again(
                    tx,
                    self.context,
                    self.booking,
                    &ended,
                    held,
                    units,
                    asked.drawn,
                )?
            } else if ended.state.0 == ReservationState::Broken {
                self.promise_again(tx, &ended)?
            } else {
                continue;
            };
            effect.made_again(&ended, again);
        }
        Ok(())
    }

    /// Refuses while a later cut counts the unit of the set that this one is a part of.
    fn set_open(&self, tx: &mut Tx<'_>, cut: &CutDetail) -> Done<()> {
        let Some(id) = cut.reservation else {
            return Ok(());
        };
        match promises::set::counted_by(tx, id, self.target.id)? {
            None => Ok(()),
            Some(other) => {
                let other = BookingCode::new(other);
                let detail = format!(
                    "{other} completed the set of the {} that this cut is a part of",
                    cut.role
                );
                Err(cannot(detail, "take that back first"))
            }
        }
    }

    /// Counts the set anew without this cut, which is still booked.
    fn set_back(&self, tx: &mut Tx<'_>, cut: &CutDetail) -> Done<()> {
        let Some(id) = cut.reservation else {
            return Ok(());
        };
        let row = promises::row(tx, id)?;
        promises::set::recount(
            tx,
            &row,
            cut.drawn.saturating_neg(),
            cut.units.saturating_neg(),
        )?;
        Ok(())
    }

    fn needs_back(&self, tx: &mut Tx<'_>, cut: &CutDetail) -> Done<()> {
        if let Some(mut need) = tx.need(cut.need)? {
            need.units_cut = (need.units_cut - cut.units).max(0);
            tx.save_need(&need)?;
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
