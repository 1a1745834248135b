//! What promises hold only because they were rounded up to the cutting step gives way to whatever fits without it.

use super::{Takes, internal, row, takes::need_held};
use crate::{
    desk::{Desk, failure::Done},
    shelf::shelved::Shelved,
};
use ellwand_domain::ledger::{Hold, LedgerError, Piece};

/// Does something to a piece; where its promises leave no room for that, once more without what they hold by rounding alone.
/// `own`: a promise that keeps all of it, since the act draws on it. [`gave_up`] writes what they hold then.
pub(crate) fn with_room<T>(
    desk: &mut Desk<'_>,
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
                let row = row(desk, hold.reservation)?;
                // What needs no more is ended by its next settling, not here.
                if let Ok(takes) = Takes::of(desk, shelved, &row)?
                    && !takes.least.is_zero()
                {
                    shelved
                        .stored
                        .piece
                        .resize_hold_between(hold.reservation, takes.least, hold.quantity)
                        .map_err(|error| internal(shelved, &error))?;
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

/// Writes down which promises of `before` gave up their rounding, of those that lie on the piece now; returns them.
pub(crate) fn gave_up(desk: &mut Desk<'_>, shelved: &Shelved, before: &[Hold]) -> Done<Vec<i64>> {
    let mut gave = Vec::new();
    for was in before {
        let Some(hold) = shelved.stored.piece.hold(was.reservation) else {
            continue;
        };
        if hold.quantity >= was.quantity || hold.quantity != hold.least {
            continue;
        }
        let row = row(desk, was.reservation)?;
        if let Ok(takes) = Takes::of(desk, shelved, &row)? {
            let (_, need) = need_held(desk, &row)?;
            takes.write(desk, &need, row, hold)?;
            gave.push(was.reservation);
        }
    }
    Ok(gave)
}
