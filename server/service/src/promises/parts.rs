//! Promises of separate lengths that lie in several stretches: a row for each.

use super::{Takes, takes::lay_of};
use crate::{
    desk::{counter, failure::Done},
    garments::need::NeedRecord,
    promises::Asked,
};
use ellwand_domain::{
    ledger::{Hold, Piece},
    setting::ReservationState,
};
use ellwand_storage::{Reservation, Tx};

/// Lengths that found no room.
pub(crate) struct Lost {
    pub(crate) lengths: i64,
    pub(crate) because: String,
}

/// Gives every hold of a promise but one a row of its own, and the lengths that it `lost` a broken one. Writes the rows; `row` is
/// written by the caller. They belong to the booking that made the promise. Returns the new promises that hold something, and the broken one.
pub(crate) fn divide(
    tx: &mut Tx<'_>,
    booking: i64,
    (need, takes): (&NeedRecord, &Takes),
    piece: &mut Piece,
    row: &mut Reservation,
    lost: Option<Lost>,
) -> Done<(Vec<i64>, Option<i64>)> {
    let id = row.id;
    let holds = || piece.holds.iter().filter(|hold| hold.reservation == id);
    let several = holds().count() > 1;
    // A length that was begun stays with what was cut of it.
    let kept = holds().position(is_begun).unwrap_or(0);
    let mut made = Vec::new();
    let mut seen = 0;
    for hold in piece
        .holds
        .iter_mut()
        .filter(|hold| several && hold.reservation == id)
    {
        seen += 1;
        if seen - 1 == kept {
            continue;
        }
        let number = hold.apart.map_or(1, |apart| apart.number);
        let new = tx.next_numbers(counter::RESERVATION, 1)?;
        (hold.reservation, hold.rank.reservation) = (new, new);
        row.lengths = row.lengths.saturating_sub(number);
        let fit = takes.fit_of(hold);
        tx.insert_reservation(&Reservation {
            id: new,
            lay_id: lay_of(&fit, row),
            lengths: number,
            held: hold.quantity.get(),
            stretch: i64::try_from(hold.stretch).unwrap_or(i64::MAX),
            asked: Asked::new(need, &fit).text()?,
            first_id: None,
            ..row.clone()
        })?;
        made.push(new);
    }
    let Some(lost) = lost else {
        return Ok((made, None));
    };
    let new = tx.next_numbers(counter::RESERVATION, 1)?;
    row.lengths = row.lengths.saturating_sub(lost.lengths);
    tx.insert_reservation(&Reservation {
        id: new,
        state: ReservationState::Broken,
        lengths: lost.lengths,
        held: 0,
        ended_by: Some(booking),
        ended_because: Some(lost.because),
        first_id: None,
        ..row.clone()
    })?;
    Ok((made, Some(new)))
}

/// True where the first of its lengths is begun.
fn is_begun(hold: &Hold) -> bool {
    hold.apart
        .is_some_and(|apart| hold.least.get() < apart.least.get().saturating_mul(apart.number))
}
