//! One promise: what it takes, where it lies, and its row.

use super::{
    active_of, reels, set,
    units::{check_one_lot, completed, part_of, units_of},
};
use crate::{
    context::{Context, counter},
    failure::Done,
    fit::{self, UnitFit},
    garments::need::NeedRecord,
    promises::{self, Asked},
    shelved::Shelved,
};
use ellwand_contract::{garments::Pick, reservations::Reserve};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    ledger::{Hold, Quantity, Rank},
    quantity::Micrometres,
    setting::ReservationState,
};
use ellwand_storage::{Garment, Reservation, Tx, Word};

/// What stands behind the promises of a request.
#[derive(Clone, Copy)]
pub(super) struct Behind {
    pub(super) agreed: bool,
    pub(super) quotation: Option<i64>,
}

/// One pick of a request, with all that it rests on.
pub(super) struct Asking<'a> {
    pub(super) request: &'a Reserve,
    pub(super) garment: &'a Garment,
    pub(super) need: &'a NeedRecord,
    pub(super) pick: &'a Pick,
    pub(super) behind: Behind,
    /// Promises that the request has made so far.
    pub(super) own: &'a [i64],
}

/// A promise that was made.
pub(super) struct Made {
    pub(super) row: Reservation,
    /// What a unit takes, rounded up.
    pub(super) fit: UnitFit,
    pub(super) least: Quantity,
    /// True when earlier promises of the request gave way to it.
    pub(super) moved: bool,
    pub(super) notes: Vec<String>,
}

/// What a promise takes of its piece.
struct Taking {
    part: Option<Micrometres>,
    /// Whole lengths, or one part of one.
    lengths: i64,
    /// Units that it serves.
    units: i64,
    fit: UnitFit,
}

/// Promises one pick.
pub(super) fn promise(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    booking: i64,
    asking: &Asking<'_>,
    shelved: &mut Shelved,
) -> Done<Made> {
    let Asking {
        request,
        garment,
        need,
        pick,
        behind,
        own,
    } = *asking;
    let others = active_of(tx, context, garment.id, need.row.id)?;
    check_one_lot(tx, need, shelved, &others)?;
    reels::check_pick(tx, need, shelved, pick, &others)?;
    let open = need.open_units(others.iter().map(|row| row.units).sum());
    let joined = set::join(tx, context, need, shelved, pick, open, request.until)?;
    let Taking {
        part,
        lengths,
        units,
        fit: rounded,
    } = taking(tx, context, asking, shelved, &joined, open, &others)?;
    let (most, least) = rounded.both(lengths)?;
    let id = tx.next_numbers(counter::RESERVATION, 1)?;
    let rank = Rank {
        accepted: behind.agreed,
        due: garment.due,
        promised: context.today,
        reservation: id,
    };
    let before = shelved.stored.piece.holds.clone();
    let hold = room(tx, context, asking, shelved, (least, most), rank)?;
    let fit = if hold.quantity < most {
        rounded.closely()
    } else {
        rounded.clone()
    };
    reels::check_lot(tx, context, garment, need, shelved, fit.takes, &others)?;
    let mut asked = Asked::new(need, part, lengths, &fit);
    asked.part_count = joined.part().map(|part| part.trims);
    let row = Reservation {
        id,
        need_id: need.row.id,
        piece_id: shelved.stored.piece.id,
        state: Word(ReservationState::Active),
        units,
        held: hold.quantity.get(),
        stretch: i64::try_from(hold.stretch).unwrap_or(i64::MAX),
        asked: asked.text()?,
        promised: context.today,
        until: joined.until(request.until),
        booking_id: booking,
        ended_by: None,
        ended_because: None,
        quotation_id: behind.quotation,
        set_id: joined.part().map(|part| part.set.unwrap_or(id)),
    };
    tx.insert_reservation(&row)?;
    let last_on = shelved.stored.last_on;
    shelved.save(tx, last_on)?;
    let moved = !shelved.stored.piece.holds.starts_with(&before);
    let mut notes = fit.notes;
    if moved {
        promises::write_holds(tx, shelved)?;
        for id in promises::gave_up(tx, context, shelved, &before)? {
            if !own.contains(&id) {
                let code = ReservationCode::new(id);
                notes.push(format!(
                    "{code} gave up its rounding to the cutting step, so that this fits"
                ));
            }
        }
    }
    Ok(Made {
        row,
        notes,
        fit: rounded,
        least,
        moved,
    })
}

/// How much a pick takes of its piece, and the units that it serves.
fn taking(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    asking: &Asking<'_>,
    shelved: &Shelved,
    joined: &set::Joined,
    open: i64,
    others: &[Reservation],
) -> Done<Taking> {
    let Asking {
        garment,
        need,
        pick,
        ..
    } = *asking;
    let part = part_of(context, need, pick)?;
    let whole = match (joined.part(), part) {
        (None, None) => Some(units_of(need, pick, joined.open(open))?),
        _ => None,
    };
    let mut fit = match fit::fit(tx, context, garment, need, shelved, part)? {
        Ok(fit) => fit,
        Err(reason) => return Err(reason.refuse(shelved, need)),
    };
    let units = match (joined.part(), whole, part) {
        (Some(part), ..) => i64::from(part.completes),
        (None, Some(units), _) => units,
        (None, None, Some(part)) => completed(need, part, &fit, others, open)?,
        (None, None, None) => 0,
    };
    if let Some(part) = joined.part() {
        fit.takes = Quantity::new(part.trims)?;
        fit.least = fit.takes;
    }
    Ok(Taking {
        part,
        lengths: whole.unwrap_or(1),
        units,
        fit,
    })
}

/// Room for the least of it at least, and where it lies.
fn room(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    asking: &Asking<'_>,
    shelved: &mut Shelved,
    (least, most): (Quantity, Quantity),
    rank: Rank,
) -> Done<Hold> {
    let Asking {
        garment, need, own, ..
    } = *asking;
    let made = promises::with_room(tx, context, shelved, None, |piece| {
        piece.reserve_beside(least, most, rank, own)
    })?;
    match made {
        Ok(hold) => Ok(hold),
        Err(error) => {
            let what_for = format!("the {} of {}", need.row.role, GarmentCode::new(garment.id));
            let problem = promises::refusal(tx, context, shelved, &what_for, &error)?;
            Err(set::with_alternatives(tx, context, garment, need, problem)?.into())
        }
    }
}
