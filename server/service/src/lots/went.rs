//! Where the value of a lot went, by the ledger.

use crate::{detail::Detail, failure::Done};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    ledger::{Account, AccountKind, Movement},
    setting::GarmentState,
};
use ellwand_storage::{Lot, StoredPiece, Tx};
use std::collections::BTreeMap;

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
        (Account::piece(piece.id), Places { value: piece.value.get(), quantity: piece.quantity.get() })
    };
    pieces.iter().map(held).collect()
}

/// What left a lot's own places (its pieces, or its layer) for others and did not come back, and what late charges
/// brought to others for it. Together with what its own places hold that is its landed cost.
pub(crate) fn flows(tx: &mut Tx<'_>, lot: &Lot, own: &[Account]) -> Done<BTreeMap<Account, Places>> {
    let mut flows: BTreeMap<Account, Places> = BTreeMap::new();
    for account in own {
        for (stored, _) in tx.movements_at(*account)? {
            let Movement { from, to, quantity_out, quantity_in, value } = stored.movement;
            if [from, to].iter().any(|place| place.kind == AccountKind::Supplier) {
                continue;
            }
            if from == *account && !own.contains(&to) {
                flows.entry(to).or_default().add(1, value.get(), quantity_out.get());
            } else if to == *account && !own.contains(&from) {
                flows.entry(from).or_default().add(-1, value.get(), quantity_in.get());
            }
        }
    }
    late_charges(tx, lot, &mut flows)?;
    let mut settled: BTreeMap<Account, Places> = BTreeMap::new();
    for (account, places) in flows {
        settled.entry(moved_on(tx, account)?).or_default().add(1, places.value, places.quantity);
    }
    Ok(settled)
}

/// Where the material of a cancelled garment is now: with the garment that took it over, or lost; else where it was.
fn moved_on(tx: &mut Tx<'_>, mut account: Account) -> Done<Account> {
    let mut seen = Vec::new();
    while account.kind == AccountKind::Garment && !seen.contains(&account) {
        seen.push(account);
        let cancelled = tx.garment(account.id)?.is_some_and(|row| row.state.0 == GarmentState::Cancelled);
        if !cancelled {
            break;
        }
        let whole = |line: &Movement| {
            line.from == account && matches!(line.to.kind, AccountKind::Garment | AccountKind::Abandoned)
        };
        let movements = tx.movements_at(account)?;
        // The last one: an earlier cancelling was taken back.
        let Some((last, _)) = movements.iter().rev().find(|(stored, _)| whole(&stored.movement)) else {
            break;
        };
        account = last.movement.to;
    }
    Ok(account)
}

/// Late charges name their lots in the order of their movements, so each lot's can be told apart.
fn late_charges(tx: &mut Tx<'_>, lot: &Lot, flows: &mut BTreeMap<Account, Places>) -> Done<()> {
    for charge in tx.purchase_charges(lot.purchase_id)?.into_iter().filter(|charge| charge.late) {
        let Some(booking) = tx.booking(charge.booking_id)? else { continue };
        let detail: Detail = serde_json::from_str(&booking.detail)
            .map_err(|error| Problem::new(ProblemType::Internal, format!("a stored booking: {error}")))?;
        let Detail::Charged { gains, .. } = detail else { continue };
        let mut movements = tx.movements_of(&[booking.id])?.into_iter();
        for gain in gains {
            let mut left = gain.gain;
            while left != 0 {
                let Some(stored) = movements.next() else { break };
                let Movement { from, to, value, .. } = stored.movement;
                let (place, sign) = if from.kind == AccountKind::Supplier { (to, 1) } else { (from, -1) };
                left = left.saturating_sub(value.get().saturating_mul(sign));
                if gain.lot == lot.id && !matches!(place.kind, AccountKind::Piece | AccountKind::Layer) {
                    flows.entry(place).or_default().add(sign, value.get(), 0);
                }
            }
        }
    }
    Ok(())
}
