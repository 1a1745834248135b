//! Promises computed anew when their piece or need changed (rules 3 and 6).

use super::{
    Asked, Settled, break_all, end, end_overdue, internal, lots_of_role, need_of,
    rounding::least_left, row, set, write_holds,
};
use crate::{
    context::Context,
    failure::Done,
    fit::{self, UnitFit},
    garments::need::NeedRecord,
    shelved::Shelved,
};
use ellwand_domain::{ledger::Quantity, quantity::Micrometres, setting::ReservationState};
use ellwand_storage::{Reservation, Tx};
use std::collections::BTreeMap;

/// Computes anew what every promise on a piece holds, finds places for them in the order of rule 6, and
/// breaks those that no longer fit. Writes the promises; the caller saves the piece.
pub(crate) fn resettle(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    shelved: &mut Shelved,
    because: &str,
) -> Done<Settled> {
    end_overdue(tx, context, booking, shelved)?;
    let mut settled = Settled::default();
    let holds = shelved.stored.piece.holds.clone();
    let mut before = BTreeMap::new();
    for hold in &holds {
        let mut row = row(tx, hold.reservation)?;
        let mut asked = Asked::read(&row)?;
        let (garment, need) = need_of(tx, &row)?;
        let need = as_held(tx, need)?;
        let part = asked.part_um.map(Micrometres::new).transpose()?;
        match fit::fit(tx, context, &garment, &need, shelved, part)? {
            Ok(mut fit) => {
                if let Some(trims) = asked.part_count {
                    fit.takes = Quantity::new(trims)?;
                    fit.least = fit.takes;
                }
                asked.take_over(&fit);
                asked.preparation = need.demand.as_ref().and_then(|demand| demand.preparation);
                let (whole, _) = fit.both(asked.lengths)?;
                let least = least_left(&row, &asked, &fit)?;
                let held = whole.less(Quantity::new(asked.drawn)?).max(least);
                if least.is_zero() {
                    // What the cuts drew covers the promise as it is now.
                    shelved
                        .stored
                        .piece
                        .release(row.id)
                        .map_err(|error| internal(shelved, &error))?;
                    end(tx, booking, &mut row, ReservationState::Cut, None)?;
                    continue;
                }
                let piece = &mut shelved.stored.piece;
                piece
                    .resize_hold_between(row.id, least, held)
                    .map_err(|error| internal(shelved, &error))?;
                let was = Before {
                    asked: std::mem::replace(&mut row.asked, asked.text()?),
                    held: row.held,
                    fit,
                };
                before.insert(row.id, was);
                row.held = held.get();
                tx.update_reservation(&row)?;
            }
            Err(reason) => {
                shelved
                    .stored
                    .piece
                    .release(row.id)
                    .map_err(|error| internal(shelved, &error))?;
                let why = format!("{because}: {}", reason.text);
                end(tx, booking, &mut row, ReservationState::Broken, Some(why))?;
                settled.broken.push(row.id);
            }
        }
    }
    let no_room = shelved
        .stored
        .piece
        .settle()
        .map_err(|error| internal(shelved, &error))?;
    // A broken promise keeps what it held, not what it had no room for: an undo makes it again so.
    for id in &no_room {
        if let Some(Before { asked, .. }) = before.remove(id) {
            let row = row(tx, *id)?;
            tx.update_reservation(&Reservation { asked, ..row })?;
        }
    }
    settled.changed = without_rounding(tx, shelved, &before)?;
    let why = match shelved.stored.piece.rectangle {
        Some(_) => "no stretch is long enough any more",
        None => "there is not enough of it any more",
    };
    break_all(tx, booking, &no_room, &format!("{because}: {why}"))?;
    settled.broken.extend(no_room);
    write_holds(tx, shelved)?;
    for hold in &holds {
        let row = row(tx, hold.reservation)?;
        set::recount(tx, &row, 0, 0)?;
    }
    Ok(settled)
}

/// The need as a promise of it is judged: while the garment whose lot it must be of has none, nothing speaks against it.
fn as_held(tx: &mut Tx<'_>, mut need: NeedRecord) -> Done<NeedRecord> {
    if let Some(like) = need.input.same_lot_as
        && lots_of_role(tx, like.get(), &need.row.role)?.is_empty()
    {
        need.input.same_lot_as = None;
    }
    Ok(need)
}

/// A promise before it was computed anew, and what it takes now.
struct Before {
    asked: String,
    held: i64,
    fit: UnitFit,
}

/// Writes down which promises gave up the rounding to the cutting step; returns those that hold another quantity than before.
fn without_rounding(
    tx: &mut Tx<'_>,
    shelved: &Shelved,
    before: &BTreeMap<i64, Before>,
) -> Done<Vec<i64>> {
    let mut changed = Vec::new();
    for hold in &shelved.stored.piece.holds {
        let Some(Before { held, fit, .. }) = before.get(&hold.reservation) else {
            continue;
        };
        if hold.quantity.get() != *held {
            changed.push(hold.reservation);
        }
        if hold.quantity == hold.least && fit.least < fit.takes {
            let row = row(tx, hold.reservation)?;
            let mut asked = Asked::read(&row)?;
            asked.take_over(&fit.closely());
            tx.update_reservation(&Reservation {
                asked: asked.text()?,
                held: hold.quantity.get(),
                ..row
            })?;
        }
    }
    Ok(changed)
}
