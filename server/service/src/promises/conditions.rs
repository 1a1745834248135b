//! Promises that are looked at again because what they rest on changed elsewhere: their lot's sheet or tests, a lot that they must
//! be as stiff as, another garment's lot.

use super::{Settled, resettle};
use crate::{
    desk::{Desk, failure::Done},
    garments::need::read_plan,
    shelf::shelved::{LotRecord, Shelved},
};
use ellwand_domain::{code::GarmentCode, need::Stiffness};
use ellwand_storage::Reservation;
use std::collections::BTreeSet;

/// Looks again at the promises on a lot's pieces, of which something else is known now.
pub(crate) fn resettle_lot(
    desk: &mut Desk<'_>,
    booking: i64,
    record: &LotRecord,
    because: &str,
) -> Done<Settled> {
    let mut all = Settled::default();
    for stored in desk.tx.pieces_of_lot(record.lot.id)? {
        if stored.piece.holds.is_empty() {
            continue;
        }
        let shelved = Shelved {
            stored,
            record: record.clone(),
        };
        all.add(settle_piece(desk, booking, shelved, because)?);
    }
    Ok(all)
}

/// The same, and the promises on other lots that must be as stiff as this one.
pub(crate) fn resettle_stiffness(
    desk: &mut Desk<'_>,
    booking: i64,
    record: &LotRecord,
    because: &str,
) -> Done<Settled> {
    let mut all = resettle_lot(desk, booking, record, because)?;
    let mut like = Vec::new();
    for (promise, need) in desk.tx.active_reservations_with_needs()? {
        let plan = read_plan(&need)?;
        if matches!(plan.cloth().stiffness, Some(Stiffness::Like { lot, .. }) if lot == record.code())
        {
            like.push(promise);
        }
    }
    all.add(settle_pieces_of(desk, booking, &like, because)?);
    Ok(all)
}

/// Looks again at the promises that must be of the lot of these garments, which may be of another lot now.
pub(crate) fn resettle_bound_to(
    desk: &mut Desk<'_>,
    booking: i64,
    garments: &BTreeSet<i64>,
) -> Done<Settled> {
    let mut all = Settled::default();
    for garment in garments {
        let bound = desk.tx.active_reservations_bound_to(*garment)?;
        let because = format!("what {} is made of changed", GarmentCode::new(*garment));
        all.add(settle_pieces_of(desk, booking, &bound, &because)?);
    }
    Ok(all)
}

fn settle_pieces_of(
    desk: &mut Desk<'_>,
    booking: i64,
    promised: &[Reservation],
    because: &str,
) -> Done<Settled> {
    let pieces: BTreeSet<i64> = promised.iter().map(|row| row.piece_id).collect();
    let mut all = Settled::default();
    for piece in pieces {
        let shelved = Shelved::load_row(desk, piece)?;
        all.add(settle_piece(desk, booking, shelved, because)?);
    }
    Ok(all)
}

fn settle_piece(
    desk: &mut Desk<'_>,
    booking: i64,
    mut shelved: Shelved,
    because: &str,
) -> Done<Settled> {
    let settled = resettle(desk, booking, &mut shelved, because)?;
    let last_on = shelved.stored.last_on;
    shelved.save(desk, last_on)?;
    Ok(settled)
}
