//! Promises made again in the place of ended ones, as undo does.

use super::{Asked, end_overdue, need_of};
use crate::{
    context::{Context, counter},
    failure::Done,
    shelved::Shelved,
};
use ellwand_domain::{
    ledger::{Quantity, Rank},
    setting::ReservationState,
};
use ellwand_storage::{Reservation, Tx, Word};

/// Makes a promise again in the place of an ended one, when there is room; the ended one stays ended.
pub(crate) fn promise_again(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    ended: &Reservation,
    held: Quantity,
    units: i64,
    drawn: i64,
) -> Done<Option<i64>> {
    let mut shelved = Shelved::load_row(tx, ended.piece_id)?;
    end_overdue(tx, context, booking, &mut shelved)?;
    let (garment, need) = need_of(tx, ended)?;
    if need.row.dropped {
        return Ok(None);
    }
    if ended.until.is_some_and(|day| day < context.today) || held.is_zero() {
        return Ok(None);
    }
    let id = tx.next_numbers(counter::RESERVATION, 1)?;
    let accepted = super::agreed(tx, garment.id)?;
    let rank = Rank { accepted, due: garment.due, promised: ended.promised, reservation: id };
    let Ok(stretch) = shelved.stored.piece.reserve(held, rank) else { return Ok(None) };
    let mut asked = Asked::read(ended)?;
    asked.drawn = drawn;
    asked.in_place_of = Some(ended.id);
    let row = Reservation {
        id,
        state: Word(ReservationState::Active),
        units,
        held: held.get(),
        stretch: i64::try_from(stretch).unwrap_or(i64::MAX),
        asked: asked.text()?,
        booking_id: booking,
        ended_by: None,
        ended_because: None,
        ..ended.clone()
    };
    tx.insert_reservation(&row)?;
    let last_on = shelved.stored.last_on;
    shelved.save(tx, last_on)?;
    super::set::recount(tx, &row, 0, 0)?;
    Ok(Some(id))
}

/// The last promise in the place of this one: itself, or what undo made again after it ended.
pub(crate) fn last_for(tx: &mut Tx<'_>, row: Reservation) -> Done<Reservation> {
    if row.state.0 == ReservationState::Active {
        return Ok(row);
    }
    let (garment, _) = need_of(tx, &row)?;
    let mut last = row;
    // Rows come in the order they were made, so that one pass follows the whole chain.
    for other in tx.reservations_of_garment(garment.id)? {
        if Asked::read(&other)?.in_place_of == Some(last.id) {
            last = other;
        }
    }
    Ok(last)
}
