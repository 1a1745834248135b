//! Promises made again in the place of ended ones, as undo does.

use super::{
    Asked, end_overdue, need_of,
    rounding::{gave_up, least_left, with_room},
    write_holds,
};
use crate::{
    context::{Context, counter},
    failure::Done,
    fit::{self, UnitFit},
    reservations::{active_of, taken_already},
    shelved::Shelved,
};
use ellwand_domain::{
    code::ReservationCode,
    ledger::{Quantity, Rank},
    quantity::Micrometres,
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
    let rank = Rank {
        accepted,
        due: garment.due,
        promised: ended.promised,
        reservation: id,
    };
    let before = shelved.stored.piece.holds.clone();
    let (least, closely) = least_again(tx, context, &shelved, ended, (held, units, drawn))?;
    let made = with_room(tx, context, &mut shelved, None, |piece| {
        piece.reserve_between(least, held, rank)
    })?;
    let Ok(hold) = made else { return Ok(None) };
    let mut asked = Asked::read(ended)?;
    if let Some(fit) = closely.filter(|_| hold.quantity < held) {
        asked.take_over(&fit);
    }
    asked.drawn = drawn;
    asked.in_place_of = Some(ended.id);
    let row = Reservation {
        id,
        state: Word(ReservationState::Active),
        units,
        held: hold.quantity.get(),
        stretch: i64::try_from(hold.stretch).unwrap_or(i64::MAX),
        asked: asked.text()?,
        booking_id: booking,
        ended_by: None,
        ended_because: None,
        ..ended.clone()
    };
    tx.insert_reservation(&row)?;
    let last_on = shelved.stored.last_on;
    shelved.save(tx, last_on)?;
    write_holds(tx, &shelved)?;
    gave_up(tx, context, &shelved, &before)?;
    super::set::recount(tx, &row, 0, 0)?;
    Ok(Some(id))
}

/// The least that serves what is promised again, and the fit without rounding; what it held, where that is not known any more.
fn least_again(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    shelved: &Shelved,
    ended: &Reservation,
    (held, units, drawn): (Quantity, i64, i64),
) -> Done<(Quantity, Option<UnitFit>)> {
    let asked = Asked {
        drawn,
        ..Asked::read(ended)?
    };
    if asked.part_count.is_some() {
        return Ok((held, None));
    }
    let (garment, need) = need_of(tx, ended)?;
    let part = asked.part_um.map(Micrometres::new).transpose()?;
    let Ok(fit) = fit::fit(tx, context, &garment, &need, shelved, part)? else {
        return Ok((held, None));
    };
    let again = Reservation {
        units,
        held: held.get(),
        ..ended.clone()
    };
    let least = least_left(&again, &asked, &fit)?;
    if least.is_zero() {
        return Ok((held, None));
    }
    Ok((least.min(held), Some(fit.closely())))
}

/// Why an ended promise is not wanted any more: its need has all its units, its reel serves it already, or its set lacks less.
/// `strict`: also when the set lacks a part of what it held.
pub(crate) fn surplus(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    ended: &Reservation,
    held: Quantity,
    strict: bool,
) -> Done<Option<String>> {
    let (garment, need) = need_of(tx, ended)?;
    let active = active_of(tx, context, garment.id, need.row.id)?;
    let open = need.open_units(active.iter().map(|row| row.units).sum());
    let role = &need.row.role;
    // A part of a set is of use while the set has a unit to serve.
    let wants = if ended.set_id.is_some() {
        1
    } else {
        ended.units
    };
    if open < wants {
        return Ok(Some(match open {
            0 => format!("the {role} needs no more: all of it is promised or cut"),
            _ => format!("it stood for {wants} of the {role}, and {open} are open"),
        }));
    }
    if let Some(id) = ended.set_id {
        let each = need.per_unit.map_or(0, Quantity::get);
        let sets = super::set::sets_of(tx, &need.row, Some(context.today))?;
        let Some(set) = sets.iter().find(|set| set.id == id && set.have > 0) else {
            return Ok(None);
        };
        let lacks = set.missing(each);
        if lacks == 0 || (strict && lacks < held.get()) {
            let code = ReservationCode::new(id);
            let held = held.get();
            return Ok(Some(match lacks {
                0 => format!("the {role} needs no more: the set of {code} is whole"),
                _ => format!("it held {held}, and the set of {code} lacks only {lacks}"),
            }));
        }
    }
    match ended.units {
        0 => Ok(None),
        _ => taken_already(tx, &need, ended.piece_id, &active),
    }
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
