//! What a cut did beside taking cloth: to its promise, its need and its garment.

use super::{Case, Effect};
use crate::{
    detail::CutDetail,
    failure::Done,
    promises::{self, Asked},
    shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::ReservationCode,
    ledger::{Account, AccountKind, Quantity},
    setting::{BookingKind, GarmentState, ReservationState},
};
use ellwand_storage::{Garment, Reservation, Tx, Word};

impl Case<'_, '_> {
    /// Gives back what it drew and the units that it served. True where a promise holds that again, or nothing was drawn.
    pub(super) fn cut_back(
        &self,
        tx: &mut Tx<'_>,
        cut: &CutDetail,
        effect: &mut Effect,
    ) -> Done<bool> {
        let drawn = self.redraw(tx, cut, effect)?;
        // First the units, then the promises that stand for them.
        if let Some(mut need) = tx.need(cut.need)? {
            need.units_cut = (need.units_cut - cut.units).max(0);
            tx.save_need(&need)?;
        }
        if let Some(id) = cut.reservation.filter(|_| !drawn && cut.drawn > 0) {
            self.drawn_again(tx, id, cut, effect)?;
        }
        if let Some(id) = cut.reservation {
            let row = promises::row(tx, id)?;
            promises::set::recount(tx, &row, 0, 0)?;
        }
        effect.pieces.insert(cut.piece);
        Ok(drawn)
    }

    /// Puts what was drawn back on a promise that is still active; true when that was done.
    fn redraw(&self, tx: &mut Tx<'_>, cut: &CutDetail, effect: &mut Effect) -> Done<bool> {
        let Some(id) = cut.reservation.filter(|_| cut.drawn > 0) else {
            return Ok(true);
        };
        let row = promises::row(tx, id)?;
        let mut row = promises::last_for(tx, row)?;
        if row.state.0 != ReservationState::Active || row.piece_id != cut.piece {
            return Ok(false);
        }
        let mut shelved = Shelved::load_row(tx, cut.piece)?;
        let mut asked = Asked::read(&row)?;
        asked.drawn = asked.drawn.saturating_sub(cut.drawn);
        let held = Quantity::new(row.held.saturating_add(cut.drawn))?;
        let piece = &mut shelved.stored.piece;
        let broken = piece
            .resize_hold(row.id, held)
            .and_then(|()| piece.settle())
            .map_err(|error| promises::internal(&shelved, &error))?;
        if !broken.is_empty() {
            let codes: Vec<String> = broken
                .iter()
                .map(|id| ReservationCode::new(*id).to_string())
                .collect();
            let detail = format!("giving cloth back would break {}", codes.join(", "));
            return Err(Problem::new(ProblemType::Internal, detail).into());
        }
        row.asked = asked.text()?;
        row.held = held.get();
        row.units += cut.units;
        tx.update_reservation(&row)?;
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)?;
        promises::write_holds(tx, &shelved)?;
        effect.changed.push(row.id);
        Ok(true)
    }

    /// A later cut ended the promise: what this one drew is promised again.
    fn drawn_again(
        &self,
        tx: &mut Tx<'_>,
        id: i64,
        cut: &CutDetail,
        effect: &mut Effect,
    ) -> Done<()> {
        let row = promises::row(tx, id)?;
        let last = promises::last_for(tx, row)?;
        if last.state.0 == ReservationState::Cut && last.ended_by != Some(self.target.id) {
            let drawn = Asked::read(&last)?.drawn.saturating_sub(cut.drawn);
            let units = last.units + cut.units;
            let again = self.again(tx, &last, (cut.drawn, units, drawn))?;
            effect.made_again(&last, again);
        }
        Ok(())
    }

    /// Makes the promise again that the cut itself had ended, with all that it held before.
    pub(super) fn own_again(
        &self,
        tx: &mut Tx<'_>,
        ended: &Reservation,
        cut: &CutDetail,
    ) -> Done<Option<i64>> {
        let drawn = Asked::read(ended)?.drawn.saturating_sub(cut.drawn);
        let units = ended.units + cut.units;
        self.again(tx, ended, (cut.held_before, units, drawn))
    }

    /// Garments that got something by this booking may be only planned again.
    pub(super) fn takers_back(&self, tx: &mut Tx<'_>) -> Done<()> {
        let mut garments = match self.kind() {
            BookingKind::Cut => self.garments(tx)?,
            _ => Vec::new(),
        };
        let taken = self.movements.iter().map(|line| line.to);
        let taken = taken.filter(|to| to.kind == AccountKind::Garment);
        garments.extend(taken.map(|to| to.id));
        for id in garments {
            let garment = self.garment(tx, id)?;
            self.planned_only(tx, garment)?;
        }
        Ok(())
    }

    /// A garment from which nothing is cut any more, and that took nothing over, is only planned again.
    fn planned_only(&self, tx: &mut Tx<'_>, mut garment: Garment) -> Done<()> {
        let cuts = self.other_bookings(tx, garment.id, &[BookingKind::Cut])?;
        if garment.state.0 != GarmentState::CutInto || !cuts.is_empty() {
            return Ok(());
        }
        let account = Account::garment(garment.id);
        for (stored, _) in tx.movements_at(account)? {
            let line = stored.movement;
            let given = line.to == account && line.from.kind == AccountKind::Garment;
            let stands = given
                && stored.booking != self.target.id
                && tx.undone_by(stored.booking)?.is_none()
                && tx
                    .booking(stored.booking)?
                    .is_some_and(|row| row.undoes.is_none());
            if stands {
                return Ok(());
            }
        }
        garment.state = Word(GarmentState::Planned);
        Ok(tx.update_garment(&garment)?)
    }
}
