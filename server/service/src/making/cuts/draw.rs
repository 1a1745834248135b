//! What a cut does to its promise, its need and its garment.

use super::Case;
use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, invalid},
    },
    promises::{self, Filled, fit, reservations::taken_already},
};
use ellwand_domain::{
    code::LayCode,
    lay::Used,
    ledger::{CutEffect, Quantity},
    need::{ClothDemand, Joining},
    quantity::Micrometres,
    setting::{CutReason, GarmentState, ReservationState},
};
use ellwand_storage::{Reservation, Tx};

/// How much of its need's units a cut is.
pub(super) struct Fills {
    /// In the measure of a share.
    pub(super) amount: i64,
    /// Usable width of cloth when it is cut.
    pub(super) width: Option<i64>,
    /// The kept lay that it is cut by.
    pub(super) lay: Option<i64>,
    /// Whole units that it is.
    pub(super) units: i64,
    /// True when nothing of its promise is left to cut.
    pub(super) all: bool,
}

impl Case<'_> {
    /// Works out how much of its need's units the cut is: what its length gives once it is prepared, without what was rounded up or
    /// is allowed for its ends. `--count` is the most that it may fill, `--last` fills all that its promise stood for.
    pub(super) fn fills(&mut self, desk: &mut Desk<'_>, quantity: Quantity) -> Done<Fills> {
        let filled = Filled::read(desk, &self.need)?;
        self.check_requested(&filled)?;
        let takes = fit::fit(desk, &self.garment, &self.need, &self.shelved, None)?;
        let lay = match &self.reservation {
            Some(row) => row.lay_id,
            None => takes
                .as_ref()
                .ok()
                .and_then(|fit| fit.lay)
                .map(LayCode::get),
        };
        let takes = takes.map_or(Quantity::ZERO, |fit| fit.takes);
        let ([given, one], width) =
            fit::measured(desk, &self.need, &self.shelved, [quantity, takes])?;
        let size = self.need.size_at(width)?;
        let line = Line::read(desk, self.reservation.as_ref(), size)?;
        let mut amount = line.credited(given, one.saturating_sub(size).max(0));
        if let Some(requested) = self.request.units {
            let most = requested.saturating_mul(size);
            if most > amount {
                self.note_less(desk.context, quantity, requested, amount, size)?;
            }
            amount = amount.min(most);
        }
        let (planned, last) = (self.request.reason == CutReason::Planned, self.request.last);
        match (&self.reservation, self.request.reason) {
            (Some(_), _) if last => amount = amount.max(line.left),
            (Some(_), CutReason::Toile | CutReason::Swatch) => amount = 0,
            (None, _) if !planned => amount = 0,
            (None, _) if last => amount = amount.max(size.saturating_mul(filled.open())),
            _ => {}
        }
        if self.reservation.is_none() && planned && amount < size && !self.need.is_joined() {
            self.note_short(desk.context, given, size)?;
        }
        if self.reservation.is_some() && planned && amount < line.left.min(size) {
            self.note_begun(desk.context, given)?;
        }
        if let Some(lay) = lay.filter(|_| planned) {
            self.note_used(LayCode::new(lay), (given, size), width, line.units(amount))?;
        }
        if planned && !last {
            let open = takes.get().saturating_mul(filled.open().max(1));
            let held = self.reservation.as_ref().map_or(0, |row| row.held);
            self.note_more(desk.context, quantity, open.max(held));
        }
        Ok(Fills {
            amount,
            units: line.units(amount),
            width,
            lay,
            all: self.reservation.is_some() && (last || amount >= line.left),
        })
    }

    /// How much of the cloth the parts of a kept lay use: as it was laid, and as it was cut.
    fn note_used(
        &mut self,
        lay: LayCode,
        (given, one): (i64, i64),
        width: Option<i64>,
        units: i64,
    ) -> Done<()> {
        let parts = self.need.demand.as_ref().and_then(ClothDemand::parts);
        let (Some(parts), Some(width), 1..) = (parts, width, units) else {
            return Ok(());
        };
        let used = |length: i64, units: i64| -> Done<Used> {
            let area = parts.area_um2().saturating_mul(units.into());
            let (length, width) = (Micrometres::new(length)?, Micrometres::new(width)?);
            Ok(Used::of(area, length, width))
        };
        let (planned, real) = (used(one, 1)?, used(given, units)?);
        self.notes.push(format!(
            "by {lay}: {planned} % of its cloth was to be used, {real} % of what was cut is"
        ));
        Ok(())
    }

    /// That a cut is too short to count.
    fn note_short(&mut self, context: &Context<'_>, given: i64, size: i64) -> Done<()> {
        let (cut, of) = (
            self.need.share_text(context, given)?,
            self.need.share_text(context, size)?,
        );
        let role = &self.need.row.role;
        self.notes.push(format!(
            "{cut} is not a whole length of the {role}, {of}, and does not count as cut; if it is all that is needed, add --last"
        ));
        Ok(())
    }

    /// That a length was cut off a promise that holds not even the longest part.
    fn note_begun(&mut self, context: &Context<'_>, given: i64) -> Done<()> {
        let longest = self.need.longest_part.map_or(0, Micrometres::get);
        if given < longest {
            let (cut, longest) = (
                self.need.share_text(context, given)?,
                self.need.share_text(context, longest)?,
            );
            self.notes.push(format!(
                "{cut} does not hold the longest part of the {}, {longest}: what is left of its promise is too short for the rest; if it is a slip, ellwand undo takes it back",
                self.need.row.role
            ));
        }
        Ok(())
    }

    /// That a cut is far beyond what is still asked for.
    fn note_more(&mut self, context: &Context<'_>, cut: Quantity, asked: i64) {
        let beyond = Quantity::new(asked)
            .ok()
            .and_then(|asked| cut.far_beyond(asked));
        self.notes.extend(beyond.map(|beyond| {
            format!(
                "that is {} more than the {} still asks for; if it is a slip, ellwand undo takes it back",
                self.shelved.show(context, beyond),
                self.need.row.role
            )
        }));
    }

    /// That a cut gives fewer units than was said.
    fn note_less(
        &mut self,
        context: &Context<'_>,
        quantity: Quantity,
        requested: i64,
        amount: i64,
        size: i64,
    ) -> Done<()> {
        let gives = amount.checked_div(size).unwrap_or(0);
        let (cut, one) = (
            self.shelved.show_taken(context, quantity),
            self.need.share_text(context, size)?,
        );
        self.notes.push(format!(
            "{cut} holds {gives} of the {} at {one} each: {gives} count as cut, not {requested}",
            self.need.row.role
        ));
        Ok(())
    }

    /// Refuses a count that the need has not left, and two reels in one cut.
    fn check_requested(&self, filled: &Filled) -> Done<()> {
        let Some(requested) = self.request.units else {
            return Ok(());
        };
        let role = &self.need.row.role;
        let left = (self.need.row.units - filled.cut()).max(0);
        if requested < 0 || requested > left {
            let detail = format!("{requested} units are more than the {left} still to be cut");
            return Err(invalid("units", detail)
                .with("wanted", requested)
                .with("left", left));
        }
        if self
            .reservation
            .as_ref()
            .is_some_and(|row| row.share.is_some())
        {
            let what = if self.need.counted { "set" } else { "unit" };
            let detail = format!(
                "a shared {what} of the {role} counts by itself once it is all cut: leave the number out"
            );
            return Err(invalid("units", detail));
        }
        if self.need.joining() != Joining::PieceEach {
            return Ok(());
        }
        if requested > 1 {
            let detail = format!(
                "{requested} reels of the {role} are {requested} pieces; cut one at a time"
            );
            return Err(invalid("units", detail)
                .with("wanted", requested)
                .with("most", 1));
        }
        let piece = self.shelved.stored.piece.id;
        if requested == 1
            && self.reservation.is_none()
            && taken_already(&self.need, piece, filled)?.is_some()
        {
            let detail = format!(
                "{} already counts as a reel of the {role}",
                self.shelved.code()
            );
            return Err(invalid("units", detail).naming("piece", self.shelved.code()));
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
        if self.garment.state == GarmentState::Planned {
            self.garment.state = GarmentState::CutInto;
            tx.update_garment(&self.garment)?;
        }
        Ok(())
    }
}

/// What a cut is drawn from: what was cut of its promise before.
struct Line {
    /// What one of its lengths, or the share, is.
    unit: i64,
    cut: i64,
    left: i64,
}

impl Line {
    fn read(tx: &mut Tx<'_>, row: Option<&Reservation>, size: i64) -> Done<Self> {
        let Some(row) = row else {
            return Ok(Self {
                unit: size,
                cut: 0,
                left: 0,
            });
        };
        let cut = tx.cut_of_line(row.line())?.fills;
        let all = row
            .share
            .unwrap_or_else(|| row.lengths.saturating_mul(size));
        Ok(Self {
            unit: row.share.unwrap_or(size),
            cut,
            left: all.saturating_sub(cut).max(0),
        })
    }

    /// What `given` adds: whole units without what is `allowed` beyond each, and what begins the next one.
    fn credited(&self, given: i64, allowed: i64) -> i64 {
        let begun = self.cut.checked_rem(self.unit).unwrap_or(0);
        let all = begun.saturating_add(given);
        let Some(units) = all.checked_div(self.unit) else {
            return given;
        };
        let whole = units.saturating_mul(self.unit);
        let over = all.saturating_sub(whole);
        let counts = match over > units.saturating_mul(allowed) {
            true => all,
            false => whole,
        };
        counts.saturating_sub(begun)
    }

    /// Whole units that so much more completes.
    fn units(&self, amount: i64) -> i64 {
        let whole = |of: i64| of.checked_div(self.unit).unwrap_or(0);
        whole(self.cut.saturating_add(amount)).saturating_sub(whole(self.cut))
    }
}
