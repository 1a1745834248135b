//! One promise: what it takes, where it lies, and its row.

use super::{
    reels, set,
    units::{Picked, check_one_lot, picked},
};
use crate::{
    desk::{Desk, counter, failure::Done},
    garments::need::NeedRecord,
    promises::{self, Filled, Takes, fit},
    shelf::shelved::Shelved,
};
use ellwand_contract::{garments::Pick, reservations::Reserve};
use ellwand_domain::{
    code::{GarmentCode, ReservationCode},
    ledger::{Hold, Quantity, Rank},
    setting::ReservationState,
};
use ellwand_storage::{Garment, Reservation};

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

/// What a pick made.
pub(super) struct Made {
    /// Promises with what each takes: one, or one for each stretch that separate lengths lie in.
    pub(super) rows: Vec<Reservation>,
    pub(super) takes: Takes,
    /// True when earlier promises of the request gave way to it.
    pub(super) moved: bool,
    pub(super) notes: Vec<String>,
}

/// Promises one pick.
pub(super) fn promise(
    desk: &mut Desk<'_>,
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
    let filled = Filled::read(desk, need)?;
    check_one_lot(need, shelved, &filled)?;
    reels::check_pick(need, shelved, pick, &filled)?;
    let picked = picked(desk.context, need, shelved, pick, &filled)?;
    let until = set::until(need, shelved, picked, request.until, &filled)?;
    let (lengths, share) = match picked {
        Picked::Units(units) => (units, None),
        Picked::Share(share) => (0, Some(share)),
    };
    let part = share.map(Quantity::new).transpose()?;
    let rounded = match fit::fit(desk, garment, need, shelved, part)? {
        Ok(fit) => fit,
        Err(reason) => return Err(reason.refuse(shelved, need)),
    };
    let takes = Takes::new(rounded, lengths.max(1))?;
    let id = desk.tx.next_numbers(counter::RESERVATION, 1)?;
    let rank = Rank {
        accepted: behind.agreed,
        due: garment.due,
        promised: desk.context.today,
        reservation: id,
    };
    let before = shelved.stored.piece.holds.clone();
    room(desk, asking, shelved, &takes, rank)?;
    let moved = !shelved.stored.piece.holds.starts_with(&before);
    let mut row = Reservation {
        until,
        lengths,
        share,
        ..begun(asking, booking, shelved.stored.piece.id, rank)
    };
    let piece = &mut shelved.stored.piece;
    let (made, _) = promises::divide(desk, booking, (need, &takes), piece, &mut row, None)?;
    let mut notes = Vec::new();
    if let Some(hold) = piece.hold(id).copied() {
        row = takes.held(need, row, &hold)?;
        let fit = takes.fit_of(&hold);
        reels::check_lot(desk, garment, need, shelved, &fit, &filled)?;
        notes = fit.notes;
    }
    desk.tx.insert_reservation(&row)?;
    let last_on = shelved.stored.last_on;
    shelved.save(desk, last_on)?;
    if moved {
        notes.extend(gave_way(desk, shelved, &before, own)?);
    }
    let mut rows = vec![row];
    for id in made {
        rows.push(promises::row(desk, id)?);
    }
    Ok(Made {
        rows,
        takes,
        moved,
        notes,
    })
}

/// Promises of others that gave up their rounding to the cutting step.
fn gave_way(
    desk: &mut Desk<'_>,
    shelved: &Shelved,
    before: &[Hold],
    own: &[i64],
) -> Done<Vec<String>> {
    let gave = promises::gave_up(desk, shelved, before)?.into_iter();
    let others = gave.filter(|id| !own.contains(id));
    let note = |id| {
        let code = ReservationCode::new(id);
        format!("{code} gave up its rounding to the cutting step, to make this fit")
    };
    Ok(others.map(note).collect())
}

/// A new promise that holds nothing yet.
fn begun(asking: &Asking<'_>, booking: i64, piece: i64, rank: Rank) -> Reservation {
    Reservation {
        id: rank.reservation,
        need_id: asking.need.row.id,
        piece_id: piece,
        state: ReservationState::Active,
        held: 0,
        stretch: 0,
        asked: String::new(),
        promised: rank.promised,
        until: None,
        booking_id: booking,
        ended_by: None,
        ended_because: None,
        quotation_id: asking.behind.quotation,
        first_id: None,
        lengths: 0,
        share: None,
        lay_id: None,
    }
}

/// Room for the least of it at least.
fn room(
    desk: &mut Desk<'_>,
    asking: &Asking<'_>,
    shelved: &mut Shelved,
    takes: &Takes,
    rank: Rank,
) -> Done<()> {
    let Asking {
        garment, need, own, ..
    } = *asking;
    let made = promises::with_room(desk, shelved, None, |piece| takes.reserve(piece, rank, own))?;
    match made {
        Ok(()) => Ok(()),
        Err(error) => {
            let what_for = format!("the {} of {}", need.row.role, GarmentCode::new(garment.id));
            let problem = promises::refusal(desk, shelved, &what_for, &error)?;
            Err(set::with_alternatives(desk, garment, need, problem)?.into())
        }
    }
}
