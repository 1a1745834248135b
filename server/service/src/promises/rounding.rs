//! What promises hold only because they were rounded up to the cutting step gives way to whatever fits without it.

use super::{Asked, internal, need_of, row};
use crate::{
    context::Context,
    failure::Done,
    fit::{self, UnitFit},
    shelved::Shelved,
};
use ellwand_domain::{
    ledger::{Hold, LedgerError, Piece, Quantity},
    quantity::Micrometres,
};
use ellwand_storage::{Reservation, Tx};

/// Does something to a piece; where its promises leave no room for that, once more without what they hold by rounding alone.
/// `own`: a promise that keeps all of it, since the act draws on it. [`gave_up`] writes what they hold then.
pub(crate) fn with_room<T>(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &mut Shelved,
    own: Option<i64>,
    act: impl Fn(&mut Piece) -> Result<T, LedgerError>,
) -> Done<Result<T, LedgerError>> {
    let mut piece = shelved.stored.piece.clone();
    match act(&mut piece) {
        Ok(done) => {
            shelved.stored.piece = piece;
            Ok(Ok(done))
        }
        Err(error @ (LedgerError::ExceedsAvailable { .. } | LedgerError::CrossesFlaw { .. })) => {
            for hold in shelved.stored.piece.holds.clone() {
                if own == Some(hold.reservation) {
                    continue;
                }
                // What needs no more is ended by its next settling, not here.
                let least = least_of(tx, context, shelved, hold.reservation)?;
                if let Some((least, _)) = least.filter(|(least, _)| !least.is_zero()) {
                    let known = shelved.stored.piece.resize_hold_between(
                        hold.reservation,
                        least,
                        hold.quantity,
                    );
                    known.map_err(|error| internal(shelved, &error))?;
                }
            }
            Ok(shelved
                .stored
                .piece
                .without_rounding(act)
                .map_err(|_| error))
        }
        Err(error) => Ok(Err(error)),
    }
}

/// The least that still serves a promise, and what it is worked out from; nothing for a promise of trims.
fn least_of(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &Shelved,
    reservation: i64,
) -> Done<Option<(Quantity, UnitFit)>> {
    let row = row(tx, reservation)?;
    let asked = Asked::read(&row)?;
    if asked.part_count.is_some() {
        return Ok(None);
    }
    let (garment, need) = need_of(tx, &row)?;
    let part = asked.part_um.map(Micrometres::new).transpose()?;
    let Ok(fit) = fit::fit(tx, context, &garment, &need, shelved, part)? else {
        return Ok(None);
    };
    Ok(Some((least_left(&row, &asked, &fit)?, fit)))
}

/// The least that still serves what is left of a promise. Lengths that were cut are counted out whole: what they took by their own
/// rounding is not taken off those to come.
pub(super) fn least_left(row: &Reservation, asked: &Asked, fit: &UnitFit) -> Done<Quantity> {
    let (_, of_all) = fit.both(asked.lengths)?;
    let by_all = of_all.less(Quantity::new(asked.drawn)?);
    let in_part = asked.part_um.is_some() || asked.part_count.is_some();
    if in_part || row.units >= asked.lengths {
        return Ok(by_all);
    }
    let (_, of_units) = fit.both(row.units)?;
    Ok(by_all.max(of_units.min(Quantity::new(row.held)?)))
}

/// Writes down which promises of `before` gave up their rounding, of those that lie on the piece now; returns them.
pub(crate) fn gave_up(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &Shelved,
    before: &[Hold],
) -> Done<Vec<i64>> {
    let mut gave = Vec::new();
    for was in before {
        let Some(hold) = shelved.stored.piece.hold(was.reservation) else {
            continue;
        };
        if hold.quantity >= was.quantity || hold.quantity != hold.least {
            continue;
        }
        if let Some((_, fit)) = least_of(tx, context, shelved, was.reservation)? {
            let row = row(tx, was.reservation)?;
            let mut asked = Asked::read(&row)?;
            asked.take_over(&fit.closely());
            let held = hold.quantity.get();
            tx.update_reservation(&Reservation {
                asked: asked.text()?,
                held,
                ..row
            })?;
            gave.push(was.reservation);
        }
    }
    Ok(gave)
}
