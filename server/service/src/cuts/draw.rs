//! What a cut does to its promise, its need and its garment.

use super::Case;
use crate::{
    context::Context,
    failure::{Done, invalid},
    fit,
    promises::{self, Asked},
    reservations::{active_of, taken_already},
};
use ellwand_domain::{
    ledger::{CutEffect, Quantity},
    setting::{CutReason, GarmentState, ReservationState},
};
use ellwand_storage::{Tx, Word};

impl Case<'_> {
    /// Draws the promise down, counts the units served, and moves the garment on.
    pub(super) fn draw(
        &mut self,
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        quantity: Quantity,
        effect: &CutEffect,
    ) -> Done<i64> {
        let mut units = 0;
        if let Some(row) = &mut self.reservation {
            let mut asked = Asked::read(row)?;
            asked.drawn = asked.drawn.saturating_add(effect.drawn.get());
            let before = row.units;
            if row.set_id.is_some() && self.request.units.is_some() {
                let detail = format!(
                    "a set of the {} counts itself once all of it is cut",
                    self.need.row.role
                );
                return Err(invalid("units", detail));
            }
            let after = match effect.still_held.is_zero() {
                false if row.set_id.is_some() => before,
                true => 0,
                false => {
                    let left = effect
                        .still_held
                        .get()
                        .saturating_add(asked.per_length.max(1) - 1);
                    (left / asked.per_length.max(1)).min(before)
                }
            };
            units = before - after;
            row.units = after;
            row.asked = asked.text()?;
            row.held = effect.still_held.get();
            if effect.still_held.is_zero() {
                let row = &mut *row;
                promises::end(tx, self.booking, row, ReservationState::Cut, None)?;
                self.shelved.stored.until.remove(&row.id);
            } else {
                tx.update_reservation(row)?;
            }
            if row.set_id.is_some() {
                units = promises::set::recount(tx, row, effect.drawn.get(), 0)?;
            }
        } else if self.request.reason == CutReason::Planned {
            units = self.free_units(tx, context, quantity)?;
        }
        self.check_reel(tx, context)?;
        let units = self.request.units.unwrap_or(units);
        let open = self.need.row.units - self.need.row.units_cut;
        if units < 0 || (self.request.units.is_some() && units > open.max(0)) {
            let detail = format!(
                "{units} units are more than the {} still to be cut",
                open.max(0)
            );
            return Err(invalid("units", detail));
        }
        self.need.row.units_cut += units.min(open.max(0));
        tx.save_need(&self.need.row)?;
        if self.garment.state.0 == GarmentState::Planned {
            self.garment.state = Word(GarmentState::CutInto);
            tx.update_garment(&self.garment)?;
        }
        Ok(units.min(open.max(0)))
    }

    /// Reels that run at once are another piece each, so that no cut serves two of them.
    fn check_reel(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Done<()> {
        let Some(asked) = self
            .request
            .units
            .filter(|_| self.need.input.reels.is_some())
        else {
            return Ok(());
        };
        let role = &self.need.row.role;
        if asked > 1 {
            let detail =
                format!("{asked} reels of the {role} are {asked} pieces, and one cut is of one");
            return Err(invalid("units", detail));
        }
        let active = active_of(tx, context, self.garment.id, self.need.row.id)?;
        let own = self.reservation.is_some();
        if asked == 1
            && !own
            && taken_already(tx, &self.need, self.shelved.stored.piece.id, &active)?.is_some()
        {
            let detail = format!(
                "{} is one of the reels of the {role} already",
                self.shelved.code()
            );
            return Err(invalid("units", detail));
        }
        Ok(())
    }

    /// Units that a planned cut of free material serves: as many as the length covers, at least one.
    fn free_units(&self, tx: &mut Tx<'_>, context: &Context<'_>, quantity: Quantity) -> Done<i64> {
        let active = active_of(tx, context, self.garment.id, self.need.row.id)?;
        if taken_already(tx, &self.need, self.shelved.stored.piece.id, &active)?.is_some() {
            return Ok(0);
        }
        let reserved: i64 = active.iter().map(|row| row.units).sum();
        let open = self.need.open_units(reserved);
        let fitted = fit::fit(tx, context, &self.garment, &self.need, &self.shelved, None)?;
        let covers = match fitted {
            Ok(fit) if !fit.takes.is_zero() => quantity.get() / fit.takes.get(),
            _ => 1,
        };
        let most = if self.need.input.reels.is_some() {
            open.min(1)
        } else {
            open
        };
        Ok(covers.max(1).min(most))
    }
}
