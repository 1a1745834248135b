//! Promises made again in the place of ended ones, as undo does.

use super::{Asked, Filled, Takes, end_overdue, gave_up, need_of, parts::divide, with_room};
use crate::{
    desk::{Desk, counter, failure::Done},
    promises::reservations::taken_already,
    shelf::shelved::Shelved,
};
use ellwand_domain::{ledger::Rank, setting::ReservationState};
use ellwand_storage::{Reservation, Tx};

/// Makes a promise again in the place of an ended one, of what the cuts that stand leave of it, when there is room; the ended one
/// stays ended.
pub(crate) fn promise_again(
    desk: &mut Desk<'_>,
    booking: i64,
    ended: &Reservation,
) -> Done<Option<i64>> {
    let mut shelved = Shelved::load_row(desk, ended.piece_id)?;
    end_overdue(desk, booking, &mut shelved)?;
    let (garment, need) = need_of(desk, ended)?;
    if need.row.dropped || ended.until.is_some_and(|day| day < desk.context.today) {
        return Ok(None);
    }
    let id = desk.tx.next_numbers(counter::RESERVATION, 1)?;
    let mut row = Reservation {
        id,
        state: ReservationState::Active,
        booking_id: booking,
        ended_by: None,
        ended_because: None,
        first_id: Some(ended.line()),
        ..ended.clone()
    };
    let takes = match Takes::of(desk, &shelved, &row)? {
        Ok(takes) => takes,
        Err(_) => Takes::as_held(desk, &row)?,
    };
    if takes.least.is_zero() {
        return Ok(None);
    }
    let rank = Rank {
        accepted: super::agreed(desk, garment.id)?,
        due: garment.due,
        promised: ended.promised,
        reservation: id,
    };
    let before = shelved.stored.piece.holds.clone();
    let made = with_room(desk, &mut shelved, None, |piece| {
        takes.reserve(piece, rank, &[])
    })?;
    if made.is_err() {
        return Ok(None);
    }
    let piece = &mut shelved.stored.piece;
    divide(desk, booking, (&need, &takes), piece, &mut row, None)?;
    if let Some(hold) = piece.hold(id) {
        row = takes.held(&need, row, hold)?;
    }
    desk.tx.insert_reservation(&row)?;
    let last_on = shelved.stored.last_on;
    shelved.save(desk, last_on)?;
    gave_up(desk, &shelved, &before)?;
    Ok(Some(id))
}

/// Why an ended promise is not wanted any more: its need has all its units, its reel serves it already, or the unit that it is a share of
/// lacks less. `strict`: also when it lacks a part of what was held.
pub(crate) fn surplus(
    desk: &mut Desk<'_>,
    ended: &Reservation,
    strict: bool,
) -> Done<Option<String>> {
    let (_, need) = need_of(desk, ended)?;
    let filled = Filled::read(desk, &need)?;
    let asked = Asked::read(ended)?;
    let size = need.size_at(asked.usable_um)?;
    let cut = desk.tx.cut_of_line(ended.line())?.fills;
    let left = super::filled::left(ended, size, cut);
    let role = &need.row.role;
    let open = filled.open();
    let wants = match ended.share {
        Some(_) => 1,
        None => left.saturating_add(size - 1).checked_div(size).unwrap_or(0),
    };
    if open < wants {
        return Ok(Some(match open {
            0 => format!("the {role} is already fully promised or cut"),
            _ => format!("it covered {wants} of the {role}, and only {open} are open"),
        }));
    }
    if ended.share.is_none() {
        return taken_already(&need, ended.piece_id, &filled);
    }
    let lot = desk
        .tx
        .piece(ended.piece_id)?
        .map_or(0, |piece| piece.lot_id);
    let missing = filled.begun_of(&need, lot).map(|begun| begun.missing);
    if let Some(missing) = missing.filter(|missing| strict && *missing < left) {
        let (held, lacks) = (
            need.share_text(desk.context, left)?,
            need.share_text(desk.context, missing)?,
        );
        let what = match need.counted {
            true => "set",
            false => "rest",
        };
        return Ok(Some(format!(
            "it held {held}, and the {what} of the {role} lacks only {lacks}"
        )));
    }
    Ok(None)
}

/// The last promise in the place of this one: itself, or what undo made again after it ended.
pub(crate) fn last_for(tx: &mut Tx<'_>, row: Reservation) -> Done<Reservation> {
    if row.state == ReservationState::Active {
        return Ok(row);
    }
    let last = tx.last_of_line(row.line())?;
    Ok(last.unwrap_or(row))
}
