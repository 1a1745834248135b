//! Taking back the planning, finishing, delivering or cancelling of a garment.

use super::{Case, Effect, cannot, cut::empty};
use crate::{failure::Done, promises, shelved::Shelved};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    ledger::AccountKind,
    setting::{BookingKind, GarmentState, ReservationState},
};
use ellwand_storage::{Tx, Word};

impl Case<'_, '_> {
    pub(super) fn planned(&self, tx: &mut Tx<'_>, garment: i64, edited: bool) -> Done<Effect> {
        if edited {
            return Err(cannot(
                format!("the plan of {} was changed", GarmentCode::new(garment)),
                "change it again with ellwand garment edit",
            ));
        }
        let mut row = self.garment_open(tx, garment)?;
        let active: Vec<String> = tx
            .reservations_of_garment(garment)?
            .iter()
            .filter(|row| row.state.0 == ReservationState::Active)
            .map(|row| ReservationCode::new(row.id).to_string())
            .collect();
        if !active.is_empty() {
            let detail = format!("{} is promised material: {}", GarmentCode::new(garment), active.join(", "));
            return Err(cannot(detail, "release it first"));
        }
        let kinds = [BookingKind::Cut, BookingKind::Worked];
        if let Some(first) = self.other_bookings(tx, garment, &kinds)?.first() {
            let detail = format!("{first} was booked on {}", GarmentCode::new(garment));
            return Err(cannot(detail, "take that back first, or cancel the garment"));
        }
        row.state = Word(GarmentState::Cancelled);
        tx.update_garment(&row)?;
        Ok(Effect::default())
    }

    /// The garment goes back to the state it was in; what went on to other places comes back.
    pub(super) fn moved(
        &self,
        tx: &mut Tx<'_>,
        garment: i64,
        before: GarmentState,
        released: &[i64],
        made: &[i64],
    ) -> Done<Effect> {
        let code = GarmentCode::new(garment);
        let later = [BookingKind::Finished, BookingKind::Delivered, BookingKind::Cancelled];
        for other in self.other_bookings(tx, garment, &later)? {
            if other.get() > self.target.id {
                return Err(cannot(format!("{other} was booked on {code} since"), "take that back first"));
            }
        }
        let mut effect = Effect { movements: self.reversed(), ..Effect::default() };
        for id in made {
            let mut shelved = Shelved::load_row(tx, *id)?;
            self.untouched(&shelved)?;
            if !shelved.stored.piece.holds.is_empty() {
                return Err(cannot(format!("{} is promised", shelved.code()), "release that promise first"));
            }
            empty(&mut shelved);
            let last_on = shelved.stored.last_on;
            shelved.save(tx, last_on)?;
        }
        for movement in &self.movements {
            if movement.to.kind == AccountKind::Garment && movement.to.id != garment {
                self.garment_open(tx, movement.to.id)?;
            }
            if movement.to.kind == AccountKind::Layer
                || (movement.to.kind == AccountKind::Piece && !made.contains(&movement.to.id))
            {
                let detail = "thread or trims that went back to the shelf are mixed with others";
                return Err(cannot(detail, "take them for the garment again instead"));
            }
        }
        let missing = || crate::failure::not_found(format!("garment {code}"), "see the list of garments");
        let mut row = tx.garment(garment)?.ok_or_else(missing)?;
        if self.target.kind.0 == BookingKind::Finished {
            (row.good, row.spoiled, row.spoilage, row.salvage) = (None, None, None, 0);
        }
        row.state = Word(before);
        tx.update_garment(&row)?;
        for id in released {
            let ended = promises::row(tx, *id)?;
            match self.promise_again(tx, &ended)? {
                Some(again) => effect.restored.push(again),
                None => effect.notes.push(format!(
                    "{} was not made again: its cloth is promised otherwise now",
                    ReservationCode::new(*id)
                )),
            }
        }
        Ok(effect)
    }
}
