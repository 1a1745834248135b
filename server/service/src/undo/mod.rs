//! Taking a booking back by booking the opposite (rule 4).
//!
//! Refused, naming why, only where later acts depend on it. What promises the booking had ended are made
//! again under new codes where there is room; the ended ones stay ended.

mod cut;
mod garment;
mod piece;
mod receipt;

use crate::{
    bookings,
    context::{Context, Entry},
    detail::Detail,
    failure::{Done, Failure, not_found},
    perform::Perform,
    promises,
    shelved::Shelved,
};
use ellwand_contract::{
    Problem, ProblemType,
    bookings::{Undo, Undone},
};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, ReservationCode},
    ledger::{Account, AccountKind, Movement, Quantity},
    setting::{BookingKind, GarmentState, ReservationState},
};
use ellwand_storage::{Booking, Reservation, Subject, Tx};
use std::collections::BTreeSet;

/// What taking a booking back did.
#[derive(Debug, Default)]
pub(crate) struct Effect {
    /// The opposite movements.
    movements: Vec<Movement>,
    /// Promises made again.
    restored: Vec<i64>,
    /// Promises that hold another length now.
    changed: Vec<i64>,
    /// Promises that no longer fit.
    broken: Vec<i64>,
    notes: Vec<String>,
}

impl Effect {
    /// Tells that an ended promise was made again, or that it could not be.
    fn made_again(&mut self, ended: &Reservation, again: Option<i64>) {
        match again {
            Some(id) => self.restored.push(id),
            None => {
                let code = ReservationCode::new(ended.id);
                self.notes.push(format!("{code} was not made again: its cloth is promised otherwise now"));
            }
        }
    }
}

/// A booking to be taken back, and the one that does it.
pub(crate) struct Case<'a, 'b> {
    context: &'a Context<'b>,
    booking: i64,
    target: Booking,
    movements: Vec<Movement>,
}

impl Perform for Undo {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Undone, Failure> {
        let target = tx.booking(self.booking.get())?.ok_or_else(|| {
            not_found(format!("booking {}", self.booking), "see the history for the bookings there are")
        })?;
        if let Some(by) = tx.undone_by(target.id)? {
            let detail = format!("{} was taken back already by {}", self.booking, BookingCode::new(by));
            return Err(cannot(detail, "nothing is left to undo"));
        }
        let detail: Detail = serde_json::from_str(&target.detail)
            .map_err(|error| Problem::new(ProblemType::Internal, format!("the booking's detail: {error}")))?;
        let movements = tx.movements_of(&[target.id])?.iter().map(|stored| stored.movement).collect();
        let booking = context.next_booking(tx)?;
        let case = Case { context, booking, target, movements };
        let effect = case.take_back(tx, detail)?;
        case.garments_can_give(tx, &effect.movements)?;
        let mut entry = Entry::new(
            BookingKind::Undone,
            context.today,
            format!("Took back {}: {}", self.booking, case.target.summary),
        );
        entry.subjects = tx
            .subjects_of(case.target.id)?
            .into_iter()
            .map(|subject| (subject.subject.0, subject.subject_id))
            .collect();
        entry.movements = effect.movements;
        entry.undoes = Some(case.target.id);
        entry.detail = Detail::Undone { booking: case.target.id };
        context.book(tx, booking, entry)?;
        Ok(Undone {
            booking: bookings::view(tx, booking)?,
            restored: promises::views(tx, context, &effect.restored)?,
            changed: promises::views(tx, context, &effect.changed)?,
            broken: promises::views(tx, context, &effect.broken)?,
            notes: effect.notes,
        })
    }
}

impl Case<'_, '_> {
    fn code(&self) -> BookingCode {
        BookingCode::new(self.target.id)
    }

    fn reversed(&self) -> Vec<Movement> {
        self.movements.iter().rev().map(|movement| movement.reversed()).collect()
    }

    fn take_back(&self, tx: &mut Tx<'_>, detail: Detail) -> Done<Effect> {
        match detail {
            Detail::Bought { purchase, lots } => self.receipt(tx, purchase, &lots),
            Detail::Charged { purchase, gains, home } => self.charge(tx, purchase, &gains, home),
            Detail::Edited { lot, before, after, dye_lot, places } => {
                self.edited(tx, &piece::EditKept { lot, before, after, dye_lot, places })
            }
            Detail::Placed { piece, before } => self.placed(tx, piece, before),
            Detail::Flawed { piece, before, structure } => self.flawed(tx, piece, before, structure),
            Detail::Split { piece, made, quantity, end, flaws, structure } => {
                self.split(tx, &piece::SplitKept { piece, made, quantity, end, flaws, structure })
            }
            Detail::Remeasured { before } => self.remeasured(tx, &before),
            Detail::Tested { lot, before } => self.tested(tx, lot, before.as_ref()),
            Detail::Planned { garment } => self.planned(tx, garment),
            Detail::Replanned { garment, before, after } => self.replanned(tx, garment, &before, &after),
            Detail::Reserved { reservations } => self.reserved(tx, reservations),
            Detail::Released { reservations } => self.released(tx, &reservations),
            Detail::Cut(cut) => self.cut(tx, &cut),
            Detail::Worked { work: _, garment } => self.worked(tx, garment),
            Detail::Moved { garment, before, released, made } => {
                self.moved(tx, garment, before, &released, &made)
            }
            Detail::Undone { .. } => Err(cannot(
                format!("{} takes another booking back", self.code()),
                "book the act again instead",
            )),
            Detail::None {} => {
                Err(cannot(format!("{} has nothing to take back", self.code()), "change the record instead"))
            }
        }
    }

    /// Refuses when the garment is finished or beyond.
    fn garment_open(&self, tx: &mut Tx<'_>, garment: i64) -> Done<ellwand_storage::Garment> {
        let code = GarmentCode::new(garment);
        let row = tx
            .garment(garment)?
            .ok_or_else(|| not_found(format!("garment {code}"), "see the list of garments"))?;
        match row.state.0 {
            GarmentState::Planned | GarmentState::CutInto => Ok(row),
            state => {
                let ended = [BookingKind::Finished, BookingKind::Delivered, BookingKind::Cancelled];
                let by = self.other_bookings(tx, garment, &ended)?;
                let by = by.first().map(|booking| format!(", by {booking}")).unwrap_or_default();
                Err(cannot(format!("{code} is {state}{by}"), "take that back first"))
            }
        }
    }

    /// Refuses when a garment would give back more value than it holds: part of it was credited since.
    fn garments_can_give(&self, tx: &mut Tx<'_>, opposite: &[Movement]) -> Done<()> {
        let given = opposite.iter().map(|movement| movement.from);
        let garments: BTreeSet<Account> = given.filter(|from| from.kind == AccountKind::Garment).collect();
        for garment in garments {
            let before: Vec<Movement> =
                tx.movements_at(garment)?.iter().map(|(stored, _)| stored.movement).collect();
            let worth: i64 = before
                .iter()
                .chain(opposite.iter().filter(|movement| movement.from == garment || movement.to == garment))
                .map(
                    |movement| {
                        if movement.to == garment { movement.value.get() } else { -movement.value.get() }
                    },
                )
                .sum();
            if worth < 0 {
                let code = GarmentCode::new(garment.id);
                return Err(cannot(
                    format!("part of what {} gave to {code} was credited or moved on since", self.code()),
                    "take that back first",
                ));
            }
        }
        Ok(())
    }

    fn reserved(&self, tx: &mut Tx<'_>, ids: Vec<i64>) -> Done<Effect> {
        let mut rows = Vec::new();
        for id in ids {
            let row = promises::row(tx, id)?;
            let row = promises::last_for(tx, row)?;
            let asked = promises::Asked::read(&row)?;
            let code = ReservationCode::new(row.id);
            if row.state.0 != ReservationState::Active {
                return Err(cannot(
                    format!("{code} was {} since", row.state.0),
                    "it has ended: nothing to take back",
                ));
            }
            if asked.drawn > 0 {
                return Err(cannot(format!("{code} was cut from since"), "take the cut back first"));
            }
            rows.push(row);
        }
        promises::release_all(tx, self.context, self.booking, rows, ReservationState::Released, None)?;
        Ok(Effect::default())
    }

    fn released(&self, tx: &mut Tx<'_>, ids: &[i64]) -> Done<Effect> {
        let mut effect = Effect::default();
        for id in ids {
            let row = promises::row(tx, *id)?;
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

    /// Makes an ended promise again with what it held when it was computed last.
    fn promise_again(&self, tx: &mut Tx<'_>, row: &Reservation) -> Done<Option<i64>> {
        let asked = promises::Asked::read(row)?;
        let whole = Quantity::new(asked.per_length.saturating_mul(asked.lengths))?;
        let held = whole.less(Quantity::new(asked.drawn)?);
        promises::promise_again(tx, self.context, self.booking, row, held, row.units, asked.drawn)
    }

    /// Makes promises again that this booking had broken, where there is room now, at what they hold of the cloth as it
    /// is again.
    fn restore_broken(&self, tx: &mut Tx<'_>, effect: &mut Effect) -> Done<()> {
        let mut pieces = BTreeSet::new();
        for ended in tx.reservations_ended_by(self.target.id)? {
            if ended.state.0 == ReservationState::Broken {
                let again = self.promise_again(tx, &ended)?;
                effect.made_again(&ended, again);
                pieces.extend(again.map(|_| ended.piece_id));
            }
        }
        pieces.into_iter().try_for_each(|id| self.settle_again(tx, id, effect))
    }

    /// Computes the promises on a piece anew.
    fn settle_again(&self, tx: &mut Tx<'_>, piece: i64, effect: &mut Effect) -> Done<()> {
        let mut shelved = Shelved::load_row(tx, piece)?;
        let because = format!("{} was taken back", self.code());
        let settled = promises::resettle(tx, self.context, self.booking, &mut shelved, &because)?;
        let restored = |id: &i64| effect.restored.contains(id) || effect.changed.contains(id);
        effect.changed.extend(settled.changed.into_iter().filter(|id| !restored(id)).collect::<Vec<_>>());
        effect.broken.extend(settled.broken);
        let last_on = shelved.stored.last_on;
        shelved.save(tx, last_on)
    }

    /// Later bookings that stand and took something off this account or gave it something. Late charges change its value
    /// alone and are not among them.
    fn standing_since(&self, tx: &mut Tx<'_>, account: Account) -> Done<Vec<BookingCode>> {
        let moves = |line: &Movement| !line.quantity_out.is_zero() || !line.quantity_in.is_zero();
        let mut since: Vec<i64> = tx
            .movements_at(account)?
            .iter()
            .filter(|(stored, _)| stored.booking > self.target.id && moves(&stored.movement))
            .map(|(stored, _)| stored.booking)
            .collect();
        let undone = tx.undone_among(&since)?;
        since.retain(|id| !undone.iter().any(|(first, second)| id == first || id == second));
        since.dedup();
        Ok(since.into_iter().map(BookingCode::new).collect())
    }

    /// Refuses when a late charge or credit reached the garment since for what this booking cut of a lot.
    fn uncharged(&self, tx: &mut Tx<'_>, garment: i64, lot: i64) -> Done<()> {
        let reached = Account::garment(garment);
        for booking in tx.standing_bookings(Subject::Garment, garment, BookingKind::Charged)? {
            if booking.id < self.target.id {
                continue;
            }
            let detail: Detail = serde_json::from_str(&booking.detail)
                .map_err(|error| Problem::new(ProblemType::Internal, format!("a stored booking: {error}")))?;
            let Detail::Charged { gains, .. } = detail else { continue };
            let movements = tx.movements_of(&[booking.id])?;
            let touched =
                movements.iter().any(|stored| [stored.movement.from, stored.movement.to].contains(&reached));
            if touched && gains.iter().any(|gain| gain.lot == lot) {
                let (code, charge) = (GarmentCode::new(garment), BookingCode::new(booking.id));
                let detail = format!("{charge} charged or credited what {code} has of it since");
                return Err(cannot(detail, "take that back first"));
            }
        }
        Ok(())
    }

    fn worked(&self, tx: &mut Tx<'_>, garment: i64) -> Done<Effect> {
        self.garment_open(tx, garment)?;
        tx.undo_work_of(self.target.id)?;
        Ok(Effect::default())
    }

    /// True when a garment has other standing bookings of these kinds than the one taken back.
    fn other_bookings(&self, tx: &mut Tx<'_>, garment: i64, kinds: &[BookingKind]) -> Done<Vec<BookingCode>> {
        let mut codes = Vec::new();
        for booking in tx.bookings(Some((Subject::Garment, garment)), i64::MAX, i64::MAX)? {
            if booking.id != self.target.id
                && kinds.contains(&booking.kind.0)
                && tx.undone_by(booking.id)?.is_none()
            {
                codes.push(BookingCode::new(booking.id));
            }
        }
        Ok(codes)
    }
}

/// Refuses, naming why.
fn cannot(detail: impl Into<String>, hint: &str) -> Failure {
    Problem::new(ProblemType::CannotUndo, detail).hint(hint).into()
}
