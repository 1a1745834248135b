//! What a cut does to its promise, its need and its garment.

use super::Case;
use crate::{
    context::Context,
    failure::{Done, invalid},
    fit,
    promises::{self, Filled},
    reservations::taken_already,
};
use ellwand_domain::{
    ledger::{CutEffect, Quantity},
    need::Joining,
    setting::{CutReason, GarmentState, ReservationState},
};
use ellwand_storage::{Tx, Word};

/// How much of its need's units a cut is.
pub(super) struct Fills {
    /// In the measure of a share.
    pub(super) amount: i64,
    /// Usable width of cloth when it is cut.
    pub(super) width: Option<i64>,
    /// Whole units that it is.
    pub(super) units: i64,
    /// True when nothing of its promise is left to cut.
    pub(super) all: bool,
}

impl Case<'_> {
    /// Works out how much of its need's units the cut is: what its length gives once it is prepared, without what was rounded up or
    /// is allowed for its ends. `--count` is the most that it may fill, `--last` fills all that its promise stood for.
    pub(super) fn fills(
        &mut self,
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        quantity: Quantity,
    ) -> Done<Fills> {
        let filled = Filled::read(tx, context, &self.need)?;
        self.check_said(&filled)?;
        let takes = fit::fit(tx, context, &self.garment, &self.need, &self.shelved, None)?;
        let takes = takes.map_or(Quantity::ZERO, |fit| fit.takes);
        let ([given, one], width) =
            fit::measured(tx, &self.need, &self.shelved, [quantity, takes])?;
        let size = self.need.size_at(width)?;
        let (before, line_left, unit) = match &self.reservation {
            Some(row) => {
                let cut = tx.cut_of_line(row.line())?.fills;
                let unit = row.share.unwrap_or(size);
                let all = row
                    .share
                    .unwrap_or_else(|| row.lengths.saturating_mul(size));
                (cut, all.saturating_sub(cut).max(0), unit)
            }
            None => (0, 0, size),
        };
        let begun = before.checked_rem(unit).unwrap_or(0);
        let allowed = one.saturating_sub(size).max(0);
        let mut amount = credited(begun, given, unit, allowed);
        if let Some(said) = self.request.units {
            let most = said.saturating_mul(size);
            if most > amount {
                self.note_less(context, quantity, said, amount, size)?;
            }
            amount = amount.min(most);
        }
        let planned = self.request.reason == CutReason::Planned;
        let for_it = !matches!(self.request.reason, CutReason::Toile | CutReason::Swatch);
        match &self.reservation {
            Some(_) if self.request.last => amount = amount.max(line_left),
            Some(_) if !for_it => amount = 0,
            None if !planned => amount = 0,
            None if self.request.last => {
                amount = amount.max(size.saturating_mul(filled.open()));
            }
            Some(_) | None => {}
        }
        let all = self.request.last || amount >= line_left;
        if self.reservation.is_none() && planned && amount < size && !self.need.is_joined() {
            let (cut, of) = (
                self.need.share_text(context, given)?,
                self.need.share_text(context, size)?,
            );
            let role = &self.need.row.role;
            self.notes.push(format!(
                "{cut} is no whole length of the {role}, {of}: it does not count as cut; where it is all that is needed, say --last"
            ));
        }
        let all_before = before.saturating_add(amount).checked_div(unit).unwrap_or(0);
        let units = all_before.saturating_sub(before.checked_div(unit).unwrap_or(0));
        Ok(Fills {
            amount,
            units,
            width,
            all: self.reservation.is_some() && all,
        })
    }

    /// That a cut gives fewer units than was said.
    fn note_less(
        &mut self,
        context: &Context<'_>,
        quantity: Quantity,
        said: i64,
        amount: i64,
        size: i64,
    ) -> Done<()> {
        let gives = amount.checked_div(size).unwrap_or(0);
        let (cut, one) = (
            self.shelved.show(context, quantity),
            self.need.share_text(context, size)?,
        );
        self.notes.push(format!(
            "{cut} holds {gives} of the {} at {one} each, not {said}: so many count as cut",
            self.need.row.role
        ));
        Ok(())
    }

    /// Refuses a count that the need has not left, and two reels in one cut.
    fn check_said(&self, filled: &Filled) -> Done<()> {
        let Some(said) = self.request.units else {
            return Ok(());
        };
        let role = &self.need.row.role;
        let left = (self.need.row.units - filled.cut()).max(0);
        if said < 0 || said > left {
            let detail = format!("{said} units are more than the {left} still to be cut");
            return Err(invalid("units", detail));
        }
        if self
            .reservation
            .as_ref()
            .is_some_and(|row| row.share.is_some())
        {
            let what = if self.need.counted { "set" } else { "unit" };
            let detail = format!("a {what} of the {role} counts itself once all of it is cut");
            return Err(invalid("units", detail));
        }
        if self.need.joining() != Joining::PieceEach {
            return Ok(());
        }
        if said > 1 {
            let detail =
                format!("{said} reels of the {role} are {said} pieces, and one cut is of one");
            return Err(invalid("units", detail));
        }
        let piece = self.shelved.stored.piece.id;
        if said == 1
            && self.reservation.is_none()
            && taken_already(&self.need, piece, filled)?.is_some()
        {
            let detail = format!(
                "{} is one of the reels of the {role} already",
                self.shelved.code()
            );
            return Err(invalid("units", detail));
        }
        Ok(())
    }

    /// Draws its promise down, and moves the garment on.
    pub(super) fn draw(&mut self, tx: &mut Tx<'_>, effect: &CutEffect) -> Done<()> {
        if let Some(row) = &mut self.reservation {
            row.held = effect.still_held.get();
            if effect.still_held.is_zero() {
                promises::end(tx, self.booking, row, ReservationState::Cut, None)?;
                self.shelved.stored.until.remove(&row.id);
            } else {
                tx.update_reservation(row)?;
            }
        }
        if self.garment.state.0 == GarmentState::Planned {
            self.garment.state = Word(GarmentState::CutInto);
            tx.update_garment(&self.garment)?;
        }
        Ok(())
    }
}

/// What `given` adds to units of `unit` each, of which `begun` of one is cut: whole units without what is `allowed` beyond each, and
/// what begins the next one.
fn credited(begun: i64, given: i64, unit: i64, allowed: i64) -> i64 {
    let all = begun.saturating_add(given);
    let Some(units) = all.checked_div(unit) else {
        return given;
    };
    let whole = units.saturating_mul(unit);
    let over = all.saturating_sub(whole);
    let counts = match over > units.saturating_mul(allowed) {
        true => all,
        false => whole,
    };
    counts.saturating_sub(begun)
}
