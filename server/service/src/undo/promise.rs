//! Promises that an undo gives back or makes again.

use super::{Case, Effect, cannot};
use crate::{detail::Detail, failure::Done, promises, shelved::Shelved};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, ReservationCode},
    setting::{BookingKind, ReservationState},
};
use ellwand_storage::{Reservation, Subject, Tx};
use std::collections::BTreeSet;

impl Effect {
    /// Tells that an ended promise was made again, or that it could not be.
    pub(super) fn made_again(&mut self, ended: &Reservation, again: Option<i64>) {
        match again {
            Some(id) => self.restored.push(id),
            None => {
                let code = ReservationCode::new(ended.id);
                self.notes.push(format!("{code} was not made again: its cloth is promised otherwise, its need has all that it takes, its day has passed or its need is gone"));
            }
        }
    }
}

impl Case<'_, '_> {
    pub(super) fn reserved(&self, tx: &mut Tx<'_>, ids: Vec<i64>) -> Done<Effect> {
        let mut rows = Vec::new();
        for id in ids {
            let row = promises::row(tx, id)?;
            let row = promises::last_for(tx, row)?;
            let code = ReservationCode::new(row.id);
            if row.state.0 != ReservationState::Active {
                let by = row
                    .ended_by
                    .map(|id| format!(", by {}", BookingCode::new(id)))
                    .unwrap_or_default();
                return Err(cannot(
                    format!("{code} was {} since{by}", row.state.0),
                    "it has ended: nothing to take back",
                ));
            }
            if tx.cut_of_line(row.line())?.drawn > 0 {
                let by = self
                    .cut_since(tx, &row)?
                    .map(|cut| format!(", by {cut}"))
                    .unwrap_or_default();
                return Err(cannot(
                    format!("{code} was cut from since{by}"),
                    "take the cut back first",
                ));
            }
            rows.push(row);
        }
        let released: Vec<i64> = rows.iter().map(|row| row.id).collect();
        promises::release_all(
            tx,
            self.context,
            self.booking,
            rows,
            ReservationState::Released,
            None,
        )?;
        let mut effect = Effect::default();
        self.given_room_back(tx, &released, &mut effect)?;
        Ok(effect)
    }

    /// What others gave up for promises that are taken back they hold again, and those that they broke are made again.
    pub(super) fn given_room_back(
        &self,
        tx: &mut Tx<'_>,
        released: &[i64],
        effect: &mut Effect,
    ) -> Done<()> {
        let mut pieces = BTreeSet::new();
        for id in released {
            pieces.insert(promises::row(tx, *id)?.piece_id);
        }
        for piece in pieces {
            self.settle_again(tx, piece, effect)?;
        }
        self.restore_broken(tx, effect)
    }

    /// The first later cut from a promise.
    fn cut_since(&self, tx: &mut Tx<'_>, row: &Reservation) -> Done<Option<BookingCode>> {
        let (garment, _) = promises::need_of(tx, row)?;
        let later = self.later(tx, (Subject::Garment, garment.id), &[BookingKind::Cut])?;
        let from = |detail: &Detail| matches!(detail, Detail::Cut(cut) if cut.need == row.need_id && cut.drawn > 0);
        Ok(later
            .into_iter()
            .find(|(_, detail)| from(detail))
            .map(|(code, _)| code))
    }

    pub(super) fn released(&self, tx: &mut Tx<'_>, ids: &[i64]) -> Done<Effect> {
        let mut effect = Effect::default();
        for id in ids {
            let row = promises::row(tx, *id)?;
            self.wanted(tx, &row, true)?;
        }
        for id in ids {
            let row = promises::row(tx, *id)?;
            self.wanted(tx, &row, false)?;
            let (garment, need) = promises::need_of(tx, &row)?;
            self.garment_open(tx, garment.id)?;
            if need.row.dropped {
                let (role, code) = (&need.row.role, GarmentCode::new(garment.id));
                let detail = format!("the {role} is not in the plan of {code} any more");
                return Err(cannot(detail, "take the change of the plan back first"));
            }
            match self.promise_again(tx, &row)? {
                Some(again) => effect.restored.push(again),
                None => {
                    let code = ReservationCode::new(*id);
                    return Err(cannot(
                        format!("what {code} held is not free any more"),
                        "reserve from another piece, or release the promise that took it",
                    ));
                }
            }
        }
        Ok(effect)
    }

    /// Refuses a promise that its need has no use for any more.
    fn wanted(&self, tx: &mut Tx<'_>, row: &Reservation, strict: bool) -> Done<()> {
        match promises::surplus(tx, self.context, row, strict)? {
            None => Ok(()),
            Some(why) => {
                let code = ReservationCode::new(row.id);
                let detail = format!("{code} is not wanted any more: {why}");
                Err(cannot(
                    detail,
                    "release the promise that took its place first",
                ))
            }
        }
    }

    /// Makes an ended promise again with what it held when it was computed last, unless its need has no use for it.
    pub(super) fn promise_again(&self, tx: &mut Tx<'_>, row: &Reservation) -> Done<Option<i64>> {
        if promises::surplus(tx, self.context, row, false)?.is_some() {
            return Ok(None);
        }
        promises::promise_again(tx, self.context, self.booking, row)
    }

    /// Makes promises again that this booking had broken, where there is room now, at what they hold of the cloth as it
    /// is again.
    pub(super) fn restore_broken(&self, tx: &mut Tx<'_>, effect: &mut Effect) -> Done<()> {
        let mut pieces = BTreeSet::new();
        for ended in tx.reservations_ended_by(self.target.id)? {
            if ended.state.0 == ReservationState::Broken {
                let again = self.promise_again(tx, &ended)?;
                effect.made_again(&ended, again);
                pieces.extend(again.map(|_| ended.piece_id));
            }
        }
        pieces
            .into_iter()
            .try_for_each(|id| self.settle_again(tx, id, effect))
    }

    /// Computes the promises on a piece anew.
    pub(super) fn settle_again(
        &self,
        tx: &mut Tx<'_>,
        piece: i64,
        effect: &mut Effect,
    ) -> Done<()> {
        let mut shelved = Shelved::load_row(tx, piece)?;
        let because = format!("{} was taken back", self.code());
        let settled = promises::resettle(tx, self.context, self.booking, &mut shelved, &because)?;
        for id in settled.changed {
            if !effect.restored.contains(&id) && !effect.changed.contains(&id) {
                effect.changed.push(id);
            }
        }
        effect.broken.extend(settled.broken);
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)
    }
}
