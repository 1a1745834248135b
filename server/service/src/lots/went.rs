//! Where the value of a lot went, by the ledger.

use crate::{detail::Detail, failure::Done};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    allocation::largest_remainder_wide,
    ledger::{Account, AccountKind, Movement},
    quantity::exact,
    setting::{BookingKind, GarmentState},
};
use ellwand_storage::{Booking, CutEntry, Lot, StoredMovement, StoredPiece, Subject, Tx};
use std::collections::{BTreeMap, BTreeSet};

/// What a place holds of a lot, or got from it: millionths, micrometres or counts.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Places {
    pub(crate) value: i64,
    pub(crate) quantity: i64,
}

impl Places {
    fn add(&mut self, sign: i64, value: i64, quantity: i64) {
        self.value = self.value.saturating_add(sign.saturating_mul(value));
        self.quantity = self.quantity.saturating_add(sign.saturating_mul(quantity));
    }
}

/// A lot's pieces with what they hold now.
pub(crate) fn on_shelf(pieces: &[StoredPiece]) -> Vec<(Account, Places)> {
    let held = |stored: &StoredPiece| {
        let piece = &stored.piece;
        (
            Account::piece(piece.id),
            Places {
                value: piece.value.get(),
                quantity: piece.quantity.get(),
            },
        )
    };
    pieces.iter().map(held).collect()
}

/// What left a lot's own places (its pieces, or its layer) for others and did not come back, and what late charges
/// brought to others for it. Together with what its own places hold that is its landed cost.
pub(crate) fn flows(
    tx: &mut Tx<'_>,
    lot: &Lot,
    own: &[Account],
) -> Done<BTreeMap<Account, Places>> {
    let mut flows: BTreeMap<Account, Places> = BTreeMap::new();
    for account in own {
        for (stored, _) in tx.movements_at(*account)? {
            let Movement {
                from,
                to,
                quantity_out,
                quantity_in,
                value,
            } = stored.movement;
            if [from, to]
                .iter()
                .any(|place| place.kind == AccountKind::Supplier)
            {
                continue;
            }
            if from == *account && !own.contains(&to) {
                flows
                    .entry(to)
                    .or_default()
                    .add(1, value.get(), quantity_out.get());
            } else if to == *account && !own.contains(&from) {
                flows
                    .entry(from)
                    .or_default()
                    .add(-1, value.get(), quantity_in.get());
            }
        }
    }
    late_charges(tx, lot, &mut flows)?;
    let mut settled: BTreeMap<Account, Places> = BTreeMap::new();
    for (account, places) in flows {
        settled
            .entry(moved_on(tx, account)?)
            .or_default()
            .add(1, places.value, places.quantity);
    }
    Ok(settled)
}

/// What of this value that a garment took was lost with those of its batch that were spoiled: the share that was lost of all that
/// it took, to the nearest millionth.
pub(crate) fn spoiled(tx: &mut Tx<'_>, account: Account, value: i64) -> Done<i64> {
    let (mut taken, mut lost) = (0_i64, 0_i64);
    for (stored, _) in tx.movements_at(account)? {
        let Movement {
            from, to, value, ..
        } = stored.movement;
        let (other, came) = if to == account {
            (from, value.get())
        } else {
            (to, value.negated().get())
        };
        match other.kind {
            AccountKind::Spoiled => lost = lost.saturating_sub(came),
            AccountKind::Delivered => {}
            _ => taken = taken.saturating_add(came),
        }
    }
    match (account.kind, taken) {
        (AccountKind::Garment, 1..) => Ok(exact::mul_div_nearest(value, lost, taken)?),
        _ => Ok(0),
    }
}

/// Where the material of a cancelled garment is now: with the garment that took it over, or lost; else where it was.
pub(crate) fn moved_on(tx: &mut Tx<'_>, mut account: Account) -> Done<Account> {
    let mut seen = Vec::new();
    while account.kind == AccountKind::Garment && !seen.contains(&account) {
        seen.push(account);
        let cancelled = tx
            .garment(account.id)?
            .is_some_and(|row| row.state.0 == GarmentState::Cancelled);
        if !cancelled {
            break;
        }
        let whole = |line: &Movement| {
            line.from == account
                && matches!(line.to.kind, AccountKind::Garment | AccountKind::Abandoned)
        };
        let movements = tx.movements_at(account)?;
        // The last one: an earlier cancelling was taken back.
        let Some((last, _)) = movements
            .iter()
            .rev()
            .find(|(stored, _)| whole(&stored.movement))
        else {
            break;
        };
        account = last.movement.to;
    }
    Ok(account)
}

/// A share of a late charge: the lot that bears it, where it went, and millionths; what a credit takes is negative.
struct ChargeShare {
    lot: i64,
    place: Account,
    value: i64,
}

/// The shares of a late charge, which names its lots in the order of its movements.
fn shares_of(tx: &mut Tx<'_>, booking: &Booking) -> Done<Vec<ChargeShare>> {
    let detail: Detail = serde_json::from_str(&booking.detail).map_err(|error| {
        Problem::new(ProblemType::Internal, format!("a stored booking: {error}"))
    })?;
    let Detail::Charged { gains, .. } = detail else {
        return Ok(Vec::new());
    };
    let mut movements = tx.movements_of(&[booking.id])?.into_iter();
    let mut shares = Vec::new();
    for gain in gains {
        let mut left = gain.gain;
        while left != 0 {
            let Some(stored) = movements.next() else {
                break;
            };
            let Movement {
                from, to, value, ..
            } = stored.movement;
            let (place, sign) = if from.kind == AccountKind::Supplier {
                (to, 1)
            } else {
                (from, -1)
            };
            let value = value.get().saturating_mul(sign);
            left = left.saturating_sub(value);
            shares.push(ChargeShare {
                lot: gain.lot,
                place,
                value,
            });
        }
    }
    Ok(shares)
}

/// What late charges brought to other places for a lot.
fn late_charges(tx: &mut Tx<'_>, lot: &Lot, flows: &mut BTreeMap<Account, Places>) -> Done<()> {
    for charge in tx
        .purchase_charges(lot.purchase_id)?
        .into_iter()
        .filter(|charge| charge.late)
    {
        let Some(booking) = tx.booking(charge.booking_id)? else {
            continue;
        };
        for share in shares_of(tx, &booking)? {
            let elsewhere = !matches!(share.place.kind, AccountKind::Piece | AccountKind::Layer);
            if share.lot == lot.id && elsewhere {
                flows.entry(share.place).or_default().add(1, share.value, 0);
            }
        }
    }
    Ok(())
}

/// What of a cut rides on its garment, by the lot that bears its cost: value, and quantity or share.
fn ridden(tx: &mut Tx<'_>, cut: &CutEntry) -> Done<Vec<(i64, i64, i64)>> {
    let to_garment = |stored: &StoredMovement| stored.movement.to.kind == AccountKind::Garment;
    let movements: Vec<Movement> = tx
        .movements_of(&[cut.booking_id])?
        .into_iter()
        .filter(to_garment)
        .map(|stored| stored.movement)
        .collect();
    let mut ridden = Vec::new();
    for line in movements
        .iter()
        .filter(|line| line.from.kind == AccountKind::Layer)
    {
        if let Some(lot) = tx.layer(line.from.id)?.and_then(|layer| layer.lot_id) {
            ridden.push((lot, line.value.get(), line.quantity_in.get()));
        }
    }
    for row in tx.pool_takings_of(&[cut.booking_id])? {
        ridden.push((row.lot_id, row.share, row.share));
    }
    if movements
        .iter()
        .all(|line| line.from.kind != AccountKind::Layer)
    {
        ridden.extend(
            movements
                .iter()
                .map(|line| (cut.lot_id, line.value.get(), line.quantity_in.get())),
        );
    }
    Ok(ridden)
}

/// What late charges and credits added to the material that a garment holds: millionths by cut and by the lot that bore them.
///
/// Each charge is split over the cuts that stood when it came, by the value that each had put there, as the charge itself was.
pub(crate) fn charged_on_cuts(tx: &mut Tx<'_>, garment: i64) -> Done<BTreeMap<(i64, i64), i64>> {
    let (mut cuts, mut charges) = (BTreeMap::new(), BTreeMap::new());
    let (mut holders, mut open) = (BTreeSet::new(), vec![garment]);
    while let Some(id) = open.pop() {
        let account = Account::garment(id);
        if !holders.insert(account) {
            continue;
        }
        for cut in tx.cuts_of_garment(id)? {
            cuts.insert(cut.booking_id, ridden(tx, &cut)?);
        }
        for booking in tx.standing_bookings(Subject::Garment, id, BookingKind::Charged)? {
            charges.insert(booking.id, booking);
        }
        // What another garment gave up may be among it.
        let mut given: Vec<StoredMovement> = tx
            .movements_at(account)?
            .into_iter()
            .map(|(stored, _)| stored)
            .collect();
        given.retain(|stored| {
            stored.movement.to == account && stored.movement.from.kind == AccountKind::Garment
        });
        for stored in given {
            let stands = tx
                .booking(stored.booking)?
                .is_some_and(|booking| booking.undoes.is_none());
            if stands && tx.undone_by(stored.booking)?.is_none() {
                open.push(stored.movement.from.id);
            }
        }
    }
    let mut added: BTreeMap<(i64, i64), i64> = BTreeMap::new();
    for (charge, booking) in charges {
        let mut by_lot: BTreeMap<i64, i64> = BTreeMap::new();
        for share in shares_of(tx, &booking)?
            .into_iter()
            .filter(|share| holders.contains(&share.place))
        {
            let sum = by_lot.entry(share.lot).or_default();
            *sum = sum.saturating_add(share.value);
        }
        for (lot, value) in by_lot {
            let of_lot = |(cut, ridden): (&i64, &Vec<(i64, i64, i64)>)| {
                let own = ridden.iter().filter(|(own, ..)| *own == lot);
                let sums = own.fold((0_i64, 0_i64), |sums, (_, value, quantity)| {
                    (
                        sums.0.saturating_add(*value),
                        sums.1.saturating_add(*quantity),
                    )
                });
                (*cut < charge).then_some((*cut, sums))
            };
            let stood: Vec<(i64, (i64, i64))> = cuts.iter().filter_map(of_lot).collect();
            let by_value: Vec<i128> = stood.iter().map(|(_, sums)| i128::from(sums.0)).collect();
            let by_quantity: Vec<i128> = stood.iter().map(|(_, sums)| i128::from(sums.1)).collect();
            let weights = if by_value.iter().any(|weight| *weight > 0) {
                by_value
            } else {
                by_quantity
            };
            if weights.iter().all(|weight| *weight <= 0) {
                continue;
            }
            let parts = largest_remainder_wide(value, &weights)
                .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
            for ((cut, _), part) in stood.iter().zip(parts) {
                let sum = added.entry((*cut, lot)).or_default();
                *sum = sum.saturating_add(part);
            }
        }
    }
    Ok(added)
}
