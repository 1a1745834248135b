//! What a cut did beside taking cloth: to its promise, its need and its garment.

use super::{Case, Effect};
use crate::{
    desk::{Desk, detail::CutDetail, failure::Done},
    promises,
};
use ellwand_domain::{
    ledger::{Account, AccountKind},
    setting::{BookingKind, GarmentState, ReservationState},
};
use ellwand_storage::Garment;

impl Case {
    /// Lets the promise that it was drawn from hold that again: one that goes on is settled, one that a later cut ended is made
    /// again.
    pub(super) fn cut_back(
        &self,
        desk: &mut Desk<'_>,
        cut: &CutDetail,
        effect: &mut Effect,
    ) -> Done<()> {
        effect.pieces.insert(cut.piece);
        let Some(id) = cut.reservation.filter(|_| cut.drawn > 0) else {
            return Ok(());
        };
        let row = promises::row(desk, id)?;
        let last = promises::last_for(desk, row)?;
        match last.state {
            ReservationState::Active => {
                effect.pieces.insert(last.piece_id);
            }
            ReservationState::Cut if last.ended_by != Some(self.target.id) => {
                let again = promises::promise_again(desk, self.booking, &last)?;
                effect.made_again(&last, again);
            }
            _ => {}
        }
        Ok(())
    }

    /// Garments that got something by this booking may be only planned again.
    pub(super) fn takers_back(&self, desk: &mut Desk<'_>) -> Done<()> {
        let mut garments = match self.kind() {
            BookingKind::Cut => self.garments(desk)?,
            _ => Vec::new(),
        };
        let taken = self.movements.iter().map(|line| line.to);
        let taken = taken.filter(|to| to.kind == AccountKind::Garment);
        garments.extend(taken.map(|to| to.id));
        for id in garments {
            let garment = self.garment(desk, id)?;
            self.planned_only(desk, garment)?;
        }
        Ok(())
    }

    /// A garment from which nothing is cut any more, and that took nothing over, is only planned again.
    fn planned_only(&self, desk: &mut Desk<'_>, mut garment: Garment) -> Done<()> {
        let cuts = self.other_bookings(desk, garment.id, &[BookingKind::Cut])?;
        if garment.state != GarmentState::CutInto || !cuts.is_empty() {
            return Ok(());
        }
        let account = Account::garment(garment.id);
        for (stored, _) in desk.tx.movements_at(account)? {
            let line = stored.movement;
            let given = line.to == account && line.from.kind == AccountKind::Garment;
            let stands = given
                && stored.booking != self.target.id
                && desk.tx.undone_by(stored.booking)?.is_none()
                && desk
                    .tx
                    .booking(stored.booking)?
                    .is_some_and(|row| row.undoes.is_none());
            if stands {
                return Ok(());
            }
        }
        garment.state = GarmentState::Planned;
        Ok(desk.tx.update_garment(&garment)?)
    }
}
