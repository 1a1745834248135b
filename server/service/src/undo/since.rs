//! What was booked since and still stands: what an undo must not pull the ground from under.

use super::{Case, cannot};
use crate::{
    detail::Detail,
    failure::{Done, not_found},
    shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{BookingCode, GarmentCode},
    ledger::{Account, AccountKind, Movement},
    setting::{BookingKind, GarmentState},
};
use ellwand_storage::{Garment, StoredMovement, Subject, Tx};
use std::{cmp::Reverse, collections::BTreeSet};

/// True for what moved cloth; a late charge moves value alone.
fn moves(line: &Movement) -> bool {
    !line.quantity_out.is_zero() || !line.quantity_in.is_zero()
}

impl Case<'_, '_> {
    /// Other bookings that stand, of movements at an account that count, in the order of the ledger.
    pub(super) fn standing(
        &self,
        tx: &mut Tx<'_>,
        account: Account,
        counts: impl Fn(&Movement) -> bool,
    ) -> Done<Vec<i64>> {
        let other = |stored: &StoredMovement| stored.booking != self.target.id && counts(&stored.movement);
        let movements = tx.movements_at(account)?.into_iter().map(|(stored, _)| stored);
        let mut bookings: Vec<i64> = movements.filter(other).map(|stored| stored.booking).collect();
        bookings.dedup();
        let undone = tx.undone_among(&bookings)?;
        bookings.retain(|id| !undone.iter().any(|(first, second)| id == first || id == second));
        Ok(bookings)
    }

    /// The first of them that was booked later.
    pub(super) fn first_since(
        &self,
        tx: &mut Tx<'_>,
        account: Account,
        counts: impl Fn(&Movement) -> bool,
    ) -> Done<Option<BookingCode>> {
        let later = self.standing(tx, account, counts)?.into_iter().find(|id| *id > self.target.id);
        Ok(later.map(BookingCode::new))
    }

    /// The first later one that took cloth, thread or trims off the account or gave it some.
    pub(super) fn moved_since(&self, tx: &mut Tx<'_>, account: Account) -> Done<Option<BookingCode>> {
        self.first_since(tx, account, moves)
    }

    /// Refuses when a later booking that stands took something off the piece or gave it something.
    pub(super) fn uncut_since(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<()> {
        let account = Account::piece(shelved.stored.piece.id);
        let Some(first) = self.moved_since(tx, account)? else { return Ok(()) };
        let detail = format!("{} was cut or changed since, by {first}", shelved.code());
        Err(cannot(detail, "take that back first"))
    }

    /// Refuses when a late charge or credit reached the garment since for what this booking cut of a lot.
    pub(super) fn uncharged(&self, tx: &mut Tx<'_>, garment: i64, lot: i64) -> Done<()> {
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

    /// Refuses when the garment is finished or beyond.
    pub(super) fn garment_open(&self, tx: &mut Tx<'_>, garment: i64) -> Done<Garment> {
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
    pub(super) fn garments_can_give(&self, tx: &mut Tx<'_>, opposite: &[Movement]) -> Done<()> {
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

    /// Other standing bookings of these kinds on a garment, newest first.
    pub(super) fn other_bookings(
        &self,
        tx: &mut Tx<'_>,
        garment: i64,
        kinds: &[BookingKind],
    ) -> Done<Vec<BookingCode>> {
        let mut bookings = Vec::new();
        for kind in kinds {
            bookings.extend(tx.standing_bookings(Subject::Garment, garment, *kind)?);
        }
        bookings.retain(|booking| booking.id != self.target.id);
        bookings.sort_by_key(|booking| Reverse(booking.id));
        Ok(bookings.iter().map(|booking| BookingCode::new(booking.id)).collect())
    }
}
