//! What was booked since and still stands: what an undo must not pull the ground from under.

use super::{Case, cannot};
use crate::{
    detail::Detail,
    failure::{Done, not_found},
    pools,
    shelved::Shelved,
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, LotCode},
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
        let other =
            |stored: &StoredMovement| stored.booking != self.target.id && counts(&stored.movement);
        let movements = tx
            .movements_at(account)?
            .into_iter()
            .map(|(stored, _)| stored);
        let mut bookings: Vec<i64> = movements
            .filter(other)
            .map(|stored| stored.booking)
            .collect();
        bookings.dedup();
        let undone = tx.undone_among(&bookings)?;
        bookings.retain(|id| {
            !undone
                .iter()
                .any(|(first, second)| id == first || id == second)
        });
        Ok(bookings)
    }

    /// The first of them that was booked later.
    pub(super) fn first_since(
        &self,
        tx: &mut Tx<'_>,
        account: Account,
        counts: impl Fn(&Movement) -> bool,
    ) -> Done<Option<BookingCode>> {
        let later = self
            .standing(tx, account, counts)?
            .into_iter()
            .find(|id| *id > self.target.id);
        Ok(later.map(BookingCode::new))
    }

    /// The first later one that took cloth, thread or trims off the account or gave it some.
    pub(super) fn moved_since(
        &self,
        tx: &mut Tx<'_>,
        account: Account,
    ) -> Done<Option<BookingCode>> {
        self.first_since(tx, account, moves)
    }

    /// Refuses when a later booking that stands took something off the piece or gave it something.
    pub(super) fn uncut_since(&self, tx: &mut Tx<'_>, shelved: &Shelved) -> Done<()> {
        let account = Account::piece(shelved.stored.piece.id);
        let Some(first) = self.moved_since(tx, account)? else {
            return Ok(());
        };
        let detail = format!("{} was cut or changed since, by {first}", shelved.code());
        Err(cannot(detail, "take that back first"))
    }

    /// The first later booking that stands and took something off the place at a cost.
    pub(super) fn taken_since(&self, tx: &mut Tx<'_>, place: Account) -> Done<Option<BookingCode>> {
        Ok(tx
            .taking_since(place, self.target.id)?
            .map(BookingCode::new))
    }

    /// Refuses when thread or trims were taken since from a layer that this booking changed: what was taken left at a cost that
    /// rests on it.
    pub(super) fn layers_untaken(&self, tx: &mut Tx<'_>) -> Done<()> {
        let places = self
            .movements
            .iter()
            .flat_map(|movement| [movement.from, movement.to]);
        let layers: BTreeSet<Account> = places
            .filter(|place| place.kind == AccountKind::Layer)
            .collect();
        for layer in layers {
            if let Some(first) = self.taken_since(tx, layer)? {
                let code = self.code();
                let detail = format!(
                    "thread or trims were used since, by {first}, at a cost that rests on {code}"
                );
                return Err(cannot(detail, "take that back first"));
            }
        }
        Ok(())
    }

    /// The first late charge or credit on one of these lots that was booked later and stands.
    pub(super) fn charged_since(
        &self,
        tx: &mut Tx<'_>,
        lots: &BTreeSet<i64>,
    ) -> Done<Option<(BookingCode, LotCode)>> {
        let mut charges = BTreeSet::new();
        for lot in lots {
            let gained = |detail: &Detail| matches!(detail, Detail::Charged { gains, .. } if gains.iter().any(|gain| gain.lot == *lot));
            let later = self.later(tx, (Subject::Lot, *lot), &[BookingKind::Charged])?;
            let first = later.into_iter().find(|(_, detail)| gained(detail));
            charges.extend(first.map(|(code, _)| (code.get(), *lot)));
        }
        Ok(charges
            .first()
            .map(|(charge, lot)| (BookingCode::new(*charge), LotCode::new(*lot))))
    }

    /// Refuses when a late charge or credit on one of these lots was shared since by where its goods were.
    pub(super) fn uncharged(&self, tx: &mut Tx<'_>, lots: &BTreeSet<i64>) -> Done<()> {
        let Some((charge, lot)) = self.charged_since(tx, lots)? else {
            return Ok(());
        };
        let detail = format!("{charge} charged or credited {lot} since, shared by where it was");
        Err(cannot(detail, "take that back first"))
    }

    /// Lots whose goods this booking moved: of its pieces, and of the layers that carry their cost.
    pub(super) fn lots_moved(&self, tx: &mut Tx<'_>) -> Done<BTreeSet<i64>> {
        lots_of(tx, &self.movements, &[self.target.id])
    }

    /// Lots whose goods a garment holds, or lost by a mistake.
    pub(super) fn lots_in(&self, tx: &mut Tx<'_>, garment: i64) -> Done<BTreeSet<i64>> {
        let (mut lots, mut seen, mut open) = (BTreeSet::new(), BTreeSet::new(), vec![garment]);
        while let Some(id) = open.pop() {
            if !seen.insert(id) {
                continue;
            }
            for kind in [
                AccountKind::Garment,
                AccountKind::OwnMistake,
                AccountKind::FaultyCloth,
            ] {
                let account = Account::new(kind, id);
                let mut stored: Vec<StoredMovement> = tx
                    .movements_at(account)?
                    .into_iter()
                    .map(|(stored, _)| stored)
                    .collect();
                let bookings: Vec<i64> = stored.iter().map(|stored| stored.booking).collect();
                let undone = tx.undone_among(&bookings)?;
                stored.retain(|stored| !undone.iter().any(|(first, _)| *first == stored.booking));
                let movements: Vec<Movement> = stored
                    .iter()
                    .map(|stored| stored.movement)
                    .filter(|line| line.to == account)
                    .collect();
                let bookings: Vec<i64> = stored.iter().map(|stored| stored.booking).collect();
                lots.extend(lots_of(tx, &movements, &bookings)?);
                let givers = movements
                    .iter()
                    .filter(|line| line.from.kind == AccountKind::Garment);
                open.extend(givers.map(|line| line.from.id));
            }
        }
        Ok(lots)
    }

    /// Later bookings of these kinds that touched a subject and stand, oldest first, with what each kept.
    pub(super) fn later(
        &self,
        tx: &mut Tx<'_>,
        (subject, id): (Subject, i64),
        kinds: &[BookingKind],
    ) -> Done<Vec<(BookingCode, Detail)>> {
        let mut later = Vec::new();
        for kind in kinds {
            for booking in tx.standing_bookings(subject, id, *kind)? {
                if booking.id > self.target.id {
                    let detail = serde_json::from_str(&booking.detail).map_err(|error| {
                        Problem::new(ProblemType::Internal, format!("a stored booking: {error}"))
                    })?;
                    later.push((BookingCode::new(booking.id), detail));
                }
            }
        }
        later.sort_by_key(|(code, _)| code.get());
        Ok(later)
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
                let ended = [
                    BookingKind::Finished,
                    BookingKind::Delivered,
                    BookingKind::Cancelled,
                ];
                let by = self.other_bookings(tx, garment, &ended)?;
                let by = by
                    .first()
                    .map(|booking| format!(", by {booking}"))
                    .unwrap_or_default();
                Err(cannot(
                    format!("{code} is {state}{by}"),
                    "take that back first",
                ))
            }
        }
    }

    /// Refuses when a garment would give back more value than it holds: part of it was credited since.
    pub(super) fn garments_can_give(&self, tx: &mut Tx<'_>, opposite: &[Movement]) -> Done<()> {
        let given = opposite.iter().map(|movement| movement.from);
        let garments: BTreeSet<Account> = given
            .filter(|from| from.kind == AccountKind::Garment)
            .collect();
        for garment in garments {
            let before: Vec<Movement> = tx
                .movements_at(garment)?
                .iter()
                .map(|(stored, _)| stored.movement)
                .collect();
            let worth: i64 = before
                .iter()
                .chain(
                    opposite
                        .iter()
                        .filter(|movement| movement.from == garment || movement.to == garment),
                )
                .map(|movement| {
                    if movement.to == garment {
                        movement.value.get()
                    } else {
                        -movement.value.get()
                    }
                })
                .sum();
            if worth < 0 {
                let code = GarmentCode::new(garment.id);
                let kinds = [
                    BookingKind::Charged,
                    BookingKind::Finished,
                    BookingKind::Delivered,
                    BookingKind::Cancelled,
                ];
                let later = self.later(tx, (Subject::Garment, garment.id), &kinds)?;
                let by = later
                    .first()
                    .map(|(first, _)| format!(", by {first}"))
                    .unwrap_or_default();
                let own = self.code();
                let detail =
                    format!("part of what {own} gave to {code} was credited or moved on since{by}");
                return Err(cannot(detail, "take that back first"));
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
        Ok(bookings
            .iter()
            .map(|booking| BookingCode::new(booking.id))
            .collect())
    }
}

/// Lots of the pieces and layers that these movements of these bookings are from or to.
fn lots_of(tx: &mut Tx<'_>, movements: &[Movement], bookings: &[i64]) -> Done<BTreeSet<i64>> {
    let places: BTreeSet<Account> = movements
        .iter()
        .flat_map(|movement| [movement.from, movement.to])
        .collect();
    let mut lots: BTreeSet<i64> = pools::lots_of(tx, bookings)?.into_iter().collect();
    for place in places {
        match place.kind {
            AccountKind::Piece => lots.extend(tx.piece(place.id)?.map(|stored| stored.lot_id)),
            AccountKind::Layer => lots.extend(tx.layer(place.id)?.and_then(|layer| layer.lot_id)),
            _ => {}
        }
    }
    Ok(lots)
}
