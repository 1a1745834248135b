//! Promises that an undo gives back or makes again.

use super::{Case, Effect, cannot, first, first_back};
use crate::{
    desk::{Desk, detail::Detail, failure::Done},
    promises,
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, ReservationCode},
    setting::{BookingKind, GarmentState, ReservationState},
};
use ellwand_storage::{Garment, Reservation};

impl Effect {
    /// Tells that an ended promise was made again, or that it could not be.
    pub(super) fn made_again(&mut self, ended: &Reservation, again: Option<i64>) {
        match again {
            Some(id) => {
                self.restored.push(id);
                self.pieces.insert(ended.piece_id);
            }
            None => {
                let code = ReservationCode::new(ended.id);
                self.notes.push(format!("{code} was not made again: its cloth, its need or its last day no longer allows it"));
            }
        }
    }
}

impl Case {
    /// Gives back what the booking promised, unless that ended or was cut from since.
    pub(super) fn promises_go(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let own = self
            .traces
            .iter()
            .any(|row| row.was.as_deref() == Some("null"));
        if self.kind() == BookingKind::Quoted && own {
            // The quotation goes with all that is promised with it.
            return Ok(());
        }
        let mut rows = Vec::new();
        for row in desk.tx.reservations_made_by(self.target.id)? {
            let row = promises::last_for(desk, row)?;
            let code = ReservationCode::new(row.id);
            if row.state != ReservationState::Active {
                let by = row.ended_by.map(BookingCode::new);
                let by = by.map_or_else(String::new, |by| format!(", by {by}"));
                return Err(cannot(
                    format!("{code} is already {}{by}", row.state),
                    "it has ended: nothing to take back",
                )
                .naming("reservation", code)
                .naming("state", row.state));
            }
            if desk.tx.cut_of_line(row.line())?.drawn > 0 {
                let detail = format!("{code} has been cut from since");
                let refused = match self.cut_since(desk, &row)? {
                    Some(by) => first_back(format!("{detail}, by {by}"), by),
                    None => first(detail),
                };
                return Err(refused.naming("reservation", code));
            }
            effect.pieces.insert(row.piece_id);
            rows.push(row);
        }
        let state = ReservationState::Released;
        promises::release_all(desk, self.booking, rows, state, None)?;
        Ok(())
    }

    /// The first later cut from a promise.
    fn cut_since(&self, desk: &mut Desk<'_>, row: &Reservation) -> Done<Option<BookingCode>> {
        let (garment, _) = promises::need_of(desk, row)?;
        let cuts = desk.tx.cuts_of_garment(garment.id)?.into_iter();
        let mut own = cuts.filter(|cut| {
            cut.booking_id > self.target.id && cut.need_id == row.need_id && cut.drawn > 0
        });
        Ok(own.next().map(|cut| BookingCode::new(cut.booking_id)))
    }

    /// Makes the promises again that the booking had ended.
    pub(super) fn promises_again(&self, desk: &mut Desk<'_>, effect: &mut Effect) -> Done<()> {
        let mut ended = desk.tx.reservations_ended_by(self.target.id)?;
        let strict = self.kind() == BookingKind::Released;
        if strict {
            ended.retain(|row| row.state == ReservationState::Released);
            for row in &ended {
                if in_hand(&promises::need_of(desk, row)?.0) {
                    self.wanted(desk, row, true)?;
                }
            }
        }
        for row in ended {
            let again = match (&self.detail, row.state) {
                (Detail::Cut(cut), _) if cut.reservation == Some(row.id) => {
                    if promises::last_for(desk, row.clone())?.id != row.id {
                        // It was made again already, and holds what comes back.
                        continue;
                    }
                    promises::promise_again(desk, self.booking, &row)?
                }
                (Detail::Cut(_), ReservationState::Cut) | (_, ReservationState::Expired) => {
                    continue;
                }
                _ if strict => self.release_back(desk, &row)?,
                _ => self.promise_again(desk, &row)?,
            };
            effect.made_again(&row, again);
        }
        Ok(())
    }

    /// Makes a promise again that was given back, or says why not.
    fn release_back(&self, desk: &mut Desk<'_>, row: &Reservation) -> Done<Option<i64>> {
        let (garment, need) = promises::need_of(desk, row)?;
        if !in_hand(&garment) {
            // It would have been given back with the garment.
            return Ok(None);
        }
        self.wanted(desk, row, false)?;
        if need.row.dropped {
            let (role, code) = (&need.row.role, GarmentCode::new(garment.id));
            let detail = format!("the {role} is no longer in the plan of {code}");
            let edits = self.other_bookings(desk, garment.id, &[BookingKind::Planned])?;
            let refused = match edits.first() {
                Some(by) => first_back(format!("{detail}, by {by}"), *by),
                None => first(detail),
            };
            return Err(refused.naming("garment", code).with("need", role.as_str()));
        }
        match self.promise_again(desk, row)? {
            Some(again) => Ok(Some(again)),
            None => {
                let code = ReservationCode::new(row.id);
                Err(cannot(
                    format!("what {code} held is no longer free"),
                    "reserve from another piece, or release the promise that took it",
                )
                .naming("reservation", code))
            }
        }
    }

    /// Refuses a promise that its need has no use for any more.
    fn wanted(&self, desk: &mut Desk<'_>, row: &Reservation, strict: bool) -> Done<()> {
        match promises::surplus(desk, row, strict)? {
            None => Ok(()),
            Some(why) => {
                let code = ReservationCode::new(row.id);
                Err(cannot(
                    format!("{code} is no longer needed: {why}"),
                    "release the promise that took its place first, with ellwand release",
                )
                .naming("reservation", code))
            }
        }
    }

    /// Makes an ended promise again while its garment is in hand and its need has a use for it.
    fn promise_again(&self, desk: &mut Desk<'_>, row: &Reservation) -> Done<Option<i64>> {
        let (garment, _) = promises::need_of(desk, row)?;
        if !in_hand(&garment) || promises::surplus(desk, row, false)?.is_some() {
            return Ok(None);
        }
        promises::promise_again(desk, self.booking, row)
    }
}

fn in_hand(garment: &Garment) -> bool {
    matches!(garment.state, GarmentState::Planned | GarmentState::CutInto)
}
