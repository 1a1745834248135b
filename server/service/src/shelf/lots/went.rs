//! Where the value of a lot went, by the ledger.

use super::weights::{self, Weights};
use crate::desk::{
    detail::{ChargeShare, Detail},
    failure::Done,
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    allocation::largest_remainder_wide,
    layer::WHOLE,
    ledger::{Account, AccountKind, Movement},
    quantity::{Millionths, exact},
    setting::{BookingKind, Facet, GarmentState},
};
use ellwand_storage::{Booking, Lot, Subject, Tx};
use std::collections::{BTreeMap, BTreeSet};

/// What left a lot's own places (its pieces, or its layer) for others and did not come back, and what late charges
/// brought to others for it. Together with what its own places hold that is its landed cost.
pub(crate) fn flows(tx: &mut Tx<'_>, lot: &Lot, own: &[Account]) -> Done<BTreeMap<Account, i64>> {
    let mut flows: BTreeMap<Account, i64> = BTreeMap::new();
    let mut add = |place: Account, value: i64| {
        let sum = flows.entry(place).or_default();
        *sum = sum.saturating_add(value);
    };
    for account in own {
        for (stored, _) in tx.movements_at(*account)? {
            let Movement {
                from, to, value, ..
            } = stored.movement;
            if [from, to].iter().any(|place| place.kind.is_source()) {
                continue;
            }
            if from == *account && !own.contains(&to) {
                add(to, value.get());
            } else if to == *account && !own.contains(&from) {
                add(from, value.negated().get());
            }
        }
    }
    for share in late_charges(tx, lot)? {
        add(share.place, share.value);
    }
    let mut settled: BTreeMap<Account, i64> = BTreeMap::new();
    for (account, value) in flows {
        let sum = settled.entry(moved_on(tx, account)?).or_default();
        *sum = sum.saturating_add(value);
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
        let (other, amount) = if to == account {
            (from, value.get())
        } else {
            (to, value.negated().get())
        };
        match other.kind {
            AccountKind::Spoiled => lost = lost.saturating_sub(amount),
            AccountKind::Delivered => {}
            _ => taken = taken.saturating_add(amount),
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
            .is_some_and(|row| row.state == GarmentState::Cancelled);
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

/// The shares of a late charge where they lie now: what taking other bookings back moved of them since is among them.
pub(crate) fn shares_of(tx: &mut Tx<'_>, charge: &Booking) -> Done<Vec<ChargeShare>> {
    let Detail::Charged { mut shares, .. } = Detail::of(charge)? else {
        return Ok(Vec::new());
    };
    for undo in tx.traced_since(Facet::Charge, charge.id, "", charge.id)? {
        if let Some(undo) = tx.booking(undo)?
            && let Detail::Undone { moved } = Detail::of(&undo)?
        {
            let own = moved.into_iter().filter(|(of, _)| *of == charge.id);
            shares.extend(own.map(|(_, share)| share));
        }
    }
    Ok(shares)
}

/// Late charges on these lots that were booked after a booking and stand, oldest first, with their shares.
pub(crate) fn charges_since(
    tx: &mut Tx<'_>,
    lots: &BTreeSet<i64>,
    after: i64,
) -> Done<Vec<(Booking, Vec<ChargeShare>)>> {
    let mut charges = BTreeMap::new();
    for lot in lots {
        for booking in tx.standing_bookings(Subject::Lot, *lot, BookingKind::Charged)? {
            if booking.id > after {
                charges.insert(booking.id, booking);
            }
        }
    }
    let mut shared = Vec::with_capacity(charges.len());
    for booking in charges.into_values() {
        let shares = shares_of(tx, &booking)?;
        shared.push((booking, shares));
    }
    Ok(shared)
}

/// What late charges brought to other places for a lot.
fn late_charges(tx: &mut Tx<'_>, lot: &Lot) -> Done<Vec<ChargeShare>> {
    let mut elsewhere = Vec::new();
    let charges = tx.purchase_charges(lot.purchase_id)?.into_iter();
    for charge in charges.filter(|charge| charge.late) {
        let Some(booking) = tx.booking(charge.booking_id)? else {
            continue;
        };
        let shares = shares_of(tx, &booking)?.into_iter();
        elsewhere.extend(shares.filter(|share| {
            let on_shelf = matches!(share.place.kind, AccountKind::Piece | AccountKind::Layer);
            share.lot == lot.id && !on_shelf
        }));
    }
    Ok(elsewhere)
}

/// What of a lot a garment holds by one cut.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Ridden {
    pub(crate) cut: i64,
    pub(crate) lot: i64,
    value: i64,
    /// How much of the lot it is, where that cost nothing.
    weight: i64,
    /// Its share of the receipt is kept, in billionths: the lot lies in a pool.
    share: Option<i64>,
}

impl Ridden {
    fn of(tx: &mut Tx<'_>, cut: i64, lot: i64, line: &Movement) -> Done<Self> {
        Ok(Self {
            cut,
            lot,
            value: line.value.get(),
            weight: weights::taken(tx, cut, line)?,
            share: None,
        })
    }

    /// What it is of the whole receipt of its lot, as a ratio. Late charges that came since raised both alike.
    pub(crate) fn of_receipt(&self, tx: &mut Tx<'_>) -> Done<(i64, i64)> {
        if let Some(share) = self.share {
            return Ok((share, WHOLE));
        }
        let Some(lot) = tx.lot(self.lot)? else {
            return Ok((0, 1));
        };
        let later = charges_since(tx, &BTreeSet::from([self.lot]), self.cut)?;
        let gained = later.iter().flat_map(|(_, shares)| shares);
        let gained: i64 = gained
            .filter(|share| share.lot == self.lot)
            .map(|share| share.value)
            .sum();
        let landed = lot.landed.saturating_sub(gained);
        if landed > 0 {
            return Ok((self.value, landed));
        }
        let own = match tx
            .layers(lot.material_id)?
            .iter()
            .find(|layer| layer.lot_id == Some(lot.id))
        {
            Some(layer) => vec![(Account::layer(layer.id), layer.quantity)],
            None => {
                let pieces = tx.pieces_of_lot(lot.id)?.into_iter();
                let held = pieces
                    .map(|stored| (Account::piece(stored.piece.id), stored.piece.quantity.get()));
                held.collect()
            }
        };
        let whole = Weights::read(tx, &own)?.whole();
        Ok((self.weight, i64::try_from(whole).unwrap_or(i64::MAX).max(1)))
    }
}

/// What of a late charge with these shares belongs to part of a lot's receipt.
pub(crate) fn part_of_charge(
    tx: &mut Tx<'_>,
    ridden: &Ridden,
    shares: &[ChargeShare],
) -> Done<i64> {
    let own = shares.iter().filter(|share| share.lot == ridden.lot);
    let gained: i64 = own.map(|share| share.value).sum();
    let (part, whole) = ridden.of_receipt(tx)?;
    let share = exact::mul_div_nearest(gained.saturating_abs(), part, whole)?;
    Ok(share.saturating_mul(gained.signum()))
}

/// What late charges after a booking, such as a garment's finish, had to do with the material that the garment holds: millionths by
/// charge. They lie in the adjustment, since they came when it was made.
pub(crate) fn charged_after(
    tx: &mut Tx<'_>,
    garment: i64,
    after: i64,
) -> Done<Vec<(Booking, Millionths)>> {
    let (held, _) = held_by(tx, garment)?;
    let lots: BTreeSet<i64> = held.iter().map(|ridden| ridden.lot).collect();
    let mut charges = Vec::new();
    for (charge, shares) in charges_since(tx, &lots, after)? {
        let mut value = 0_i64;
        for ridden in &held {
            value = value.saturating_add(part_of_charge(tx, ridden, &shares)?);
        }
        if value != 0 {
            charges.push((charge, Millionths::new(value)?));
        }
    }
    Ok(charges)
}

/// What a booking took to these kinds of places, or to pieces and layers, by the lot that bears its cost; `of`: the lot of its
/// pieces of cloth.
pub(crate) fn carried(
    tx: &mut Tx<'_>,
    booking: i64,
    of: i64,
    to: impl Fn(AccountKind) -> bool,
) -> Done<Vec<Ridden>> {
    let movements = tx.movements_of(&[booking])?.into_iter();
    let movements: Vec<Movement> = movements
        .map(|stored| stored.movement)
        .filter(|line| to(line.to.kind))
        .collect();
    let mut carried = Vec::new();
    let mut pooled = false;
    for line in &movements {
        let layer = [line.from, line.to]
            .into_iter()
            .find(|place| place.kind == AccountKind::Layer);
        let Some(layer) = layer else { continue };
        pooled = true;
        if let Some(lot) = tx.layer(layer.id)?.and_then(|layer| layer.lot_id) {
            carried.push(Ridden::of(tx, booking, lot, line)?);
        }
    }
    if !pooled {
        for line in &movements {
            carried.push(Ridden::of(tx, booking, of, line)?);
        }
    }
    for row in tx.pool_takings_of(&[booking])? {
        if to(row.to_kind) || row.share < 0 {
            let share = row.share.saturating_abs();
            carried.push(Ridden {
                cut: booking,
                lot: row.lot_id,
                value: share,
                weight: share,
                share: Some(share),
            });
        }
    }
    Ok(carried)
}

/// What a garment holds by cuts that stand, those of garments that gave it theirs among them; and all of these garments.
pub(crate) fn held_by(tx: &mut Tx<'_>, garment: i64) -> Done<(Vec<Ridden>, BTreeSet<Account>)> {
    let mut held = Vec::new();
    let (mut holders, mut open) = (BTreeSet::new(), vec![garment]);
    while let Some(id) = open.pop() {
        let account = Account::garment(id);
        if !holders.insert(account) {
            continue;
        }
        for cut in tx.cuts_of_garment(id)? {
            let rides = |kind| kind == AccountKind::Garment;
            held.extend(carried(tx, cut.booking_id, cut.lot_id, rides)?);
        }
        // What another garment gave up may be among it.
        for (stored, _) in tx.movements_at(account)? {
            let given =
                stored.movement.to == account && stored.movement.from.kind == AccountKind::Garment;
            let stands = given
                && tx.undone_by(stored.booking)?.is_none()
                && tx
                    .booking(stored.booking)?
                    .is_some_and(|booking| booking.undoes.is_none());
            if stands {
                open.push(stored.movement.from.id);
            }
        }
    }
    Ok((held, holders))
}

/// What a late charge added to the material of one cut that a garment holds.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Added {
    pub(crate) charge: i64,
    pub(crate) cut: i64,
    pub(crate) lot: i64,
    pub(crate) value: i64,
}

/// What late charges and credits added to the material that a garment holds: millionths by charge, cut, and the lot that bore
/// them.
///
/// Each charge is split over the cuts that stood when it came, by the value that each had put there, as the charge itself was.
pub(crate) fn charged_on_cuts(tx: &mut Tx<'_>, garment: i64) -> Done<Vec<Added>> {
    let (held, holders) = held_by(tx, garment)?;
    let lots: BTreeSet<i64> = held.iter().map(|ridden| ridden.lot).collect();
    let mut added = Vec::new();
    for (charge, shares) in charges_since(tx, &lots, 0)? {
        for lot in &lots {
            let own = shares
                .iter()
                .filter(|share| share.lot == *lot && holders.contains(&share.place));
            let value: i64 = own.map(|share| share.value).sum();
            let stood: Vec<&Ridden> = held
                .iter()
                .filter(|ridden| ridden.lot == *lot && ridden.cut < charge.id)
                .collect();
            let weights = |of: fn(&Ridden) -> i64| -> Vec<i128> {
                stood.iter().map(|ridden| i128::from(of(ridden))).collect()
            };
            let mut by = weights(|ridden| ridden.value);
            if by.iter().all(|weight| *weight <= 0) {
                by = weights(|ridden| ridden.weight);
            }
            if value == 0 || by.iter().all(|weight| *weight <= 0) {
                continue;
            }
            let parts = largest_remainder_wide(value, &by)
                .map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?;
            added.extend(stood.iter().zip(parts).map(|(ridden, value)| Added {
                charge: charge.id,
                cut: ridden.cut,
                lot: *lot,
                value,
            }));
        }
    }
    Ok(added)
}
