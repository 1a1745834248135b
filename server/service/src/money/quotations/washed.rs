//! Lengths that were quoted raw, as they are since their cloth was washed or steamed.

use crate::desk::{
    Desk,
    detail::{Detail, PieceBefore},
    failure::Done,
};
use ellwand_domain::{
    ledger::{Account, AccountKind},
    quantity::exact,
    setting::BookingKind,
};
use ellwand_storage::{Booking, Subject, Tx};

/// Washes and steamings of lots that stand and were booked after another booking.
pub(super) fn prepared_since(desk: &mut Desk<'_>, lots: &[i64], since: i64) -> Done<Vec<Booking>> {
    let mut prepared = Vec::new();
    for lot in lots {
        let kind = BookingKind::Prepared;
        let bookings = desk.tx.standing_bookings(Subject::Lot, *lot, kind)?;
        prepared.extend(bookings.into_iter().filter(|booking| booking.id > since));
    }
    Ok(prepared)
}

/// The piece that a wash or steaming was of, and what a length of it before is after it.
///
/// - Formula: length × piece after ÷ piece before.
/// - Rounding: nearest micrometre, halves away from zero.
pub(super) fn length_after(
    tx: &mut Tx<'_>,
    prepared: &Booking,
    length: i64,
) -> Done<Option<(i64, i64)>> {
    let Ok(Detail::Remeasured {
        before: PieceBefore {
            piece, quantity, ..
        },
    }) = serde_json::from_str(&prepared.detail)
    else {
        return Ok(None);
    };
    let account = Account::new(AccountKind::Piece, piece);
    let mut after = quantity;
    for stored in tx.movements_of(&[prepared.id])? {
        let movement = stored.movement;
        if movement.from == account {
            after = after.saturating_sub(movement.quantity_out.get());
        }
        if movement.to == account {
            after = after.saturating_add(movement.quantity_in.get());
        }
    }
    let length = exact::mul_div_nearest(length, after, quantity).ok();
    Ok(length.map(|length| (piece, length)))
}
