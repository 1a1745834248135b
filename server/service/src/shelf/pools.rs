//! Shares of receipts in pools (moving average): whole with the receipt, carried off by takings, brought back by undo.
//!
//! Kept by lot beside the layer, and written with the booking that moves them, so that a late charge finds where its lot went
//! without reading the ledger.

use crate::{
    desk::failure::{Done, Failure},
    shelf::lots::went::moved_on,
};
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    layer::{PoolShare, Taken, WHOLE, shares_taken},
    ledger::Account,
    quantity::exact::mul_div_nearest,
};
use ellwand_storage::{PoolTaking, Tx};
use std::collections::BTreeMap;

/// A lot comes into a pool.
pub(crate) fn received(tx: &mut Tx<'_>, layer: i64, lot: i64) -> Done<()> {
    Ok(tx.save_pool_share(&ellwand_storage::PoolShare {
        lot_id: lot,
        layer_id: layer,
        share: WHOLE,
    })?)
}

/// Keeps what a booking carries off pools; called before their layers are drawn down.
pub(crate) fn carry_off(tx: &mut Tx<'_>, booking: i64, taken: &[Taken], to: Account) -> Done<()> {
    for part in taken {
        let Some(layer) = tx.layer(part.layer)?.filter(|layer| layer.lot_id.is_none()) else {
            continue;
        };
        let rows = tx.pool_shares(layer.id)?;
        let shares: Vec<PoolShare> = rows
            .iter()
            .map(|row| PoolShare {
                lot: row.lot_id,
                share: row.share,
            })
            .collect();
        for taken in shares_taken(&shares, part.quantity, layer.quantity).map_err(internal)? {
            keep(tx, booking, taken, to)?;
        }
    }
    Ok(())
}

/// What a cut carried off, as far as `part` of its `whole` quantity goes back.
pub(crate) fn part_of(tx: &mut Tx<'_>, cut: i64, part: i64, whole: i64) -> Done<Vec<PoolShare>> {
    let mut shares = Vec::new();
    for row in tx.pool_takings_of(&[cut])? {
        let share = if part == whole {
            row.share
        } else {
            mul_div_nearest(row.share, part, whole)?
        };
        shares.push(PoolShare {
            lot: row.lot_id,
            share,
        });
    }
    Ok(shares)
}

/// Keeps what a booking brings back from a place.
pub(crate) fn bring_back(
    tx: &mut Tx<'_>,
    booking: i64,
    shares: &[PoolShare],
    from: Account,
) -> Done<()> {
    let mut by_lot: BTreeMap<i64, i64> = BTreeMap::new();
    for share in shares {
        let sum = by_lot.entry(share.lot).or_default();
        *sum = sum.saturating_add(share.share);
    }
    for (lot, share) in by_lot.into_iter().filter(|(_, share)| *share != 0) {
        keep(
            tx,
            booking,
            PoolShare {
                lot,
                share: share.saturating_neg(),
            },
            from,
        )?;
    }
    Ok(())
}

/// What a booking moved goes back to where it was.
pub(crate) fn taken_back(tx: &mut Tx<'_>, booking: i64) -> Done<()> {
    for row in tx.pool_takings_of(&[booking])? {
        add(tx, row.lot_id, row.share)?;
    }
    Ok(())
}

/// Where what was taken of a lot is now, each place with its share.
pub(crate) fn places(tx: &mut Tx<'_>, lot: i64) -> Done<BTreeMap<Account, i64>> {
    let mut places: BTreeMap<Account, i64> = BTreeMap::new();
    for (account, share) in tx.pool_places(lot)? {
        let sum = places.entry(moved_on(tx, account)?).or_default();
        *sum = sum.saturating_add(share);
    }
    Ok(places)
}

fn keep(tx: &mut Tx<'_>, booking: i64, share: PoolShare, to: Account) -> Done<()> {
    let Account { kind, id } = to;
    let PoolShare { lot, share } = share;
    tx.insert_pool_taking(&PoolTaking {
        booking_id: booking,
        lot_id: lot,
        to_kind: kind,
        to_id: id,
        share,
    })?;
    add(tx, lot, share.saturating_neg())
}

/// Adds to the share of a lot that lies in its pool.
fn add(tx: &mut Tx<'_>, lot: i64, share: i64) -> Done<()> {
    let Some(mut row) = tx.pool_share(lot)? else {
        return Ok(());
    };
    row.share = row.share.saturating_add(share);
    Ok(tx.save_pool_share(&row)?)
}

fn internal(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}
