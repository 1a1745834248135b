//! Taking back one booking, or all that its request booked: each by its own rules, all of them or none.

use super::{Case, Effect};
use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        perform::Perform,
    },
    ledger::bookings,
    promises::{self, Settled},
};
use ellwand_contract::{
    bookings::{Undo, Undone},
    reservations::Reservation,
};
use ellwand_domain::{code::BookingCode, setting::ReservationState};

impl Perform for Undo {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Undone, Failure> {
        let mut codes = vec![self.booking];
        if self.together {
            codes.extend(bookings::together(desk, self.booking.get())?);
            // The newest first: those before it may be what it rests on.
            codes.sort_by_key(|code| std::cmp::Reverse(code.get()));
        }
        let (mut made, mut effect) = (Vec::new(), Effect::default());
        for code in codes {
            let case = Case::open(desk, code, self.date)?;
            effect.add(case.undo(desk)?);
            made.push(case.booking);
        }
        let left = bookings::together(desk, self.booking.get())?;
        answer(desk, &made, effect, left)
    }
}

impl Effect {
    /// Takes over what taking back another booking of the same request did.
    fn add(&mut self, other: Self) {
        self.restored.extend(&other.restored);
        self.settled(Settled {
            changed: other.changed,
            broken: other.broken,
            ..Settled::default()
        });
        self.notes.extend(other.notes);
    }
}

/// What the opposites `made` did. A promise that was made again for one of them may have ended with the next.
fn answer(
    desk: &mut Desk<'_>,
    made: &[i64],
    mut effect: Effect,
    left: Vec<BookingCode>,
) -> Done<Undone> {
    let mut touched = effect.restored.clone();
    for booking in made {
        let ended = desk.tx.reservations_ended_by(*booking)?;
        touched.extend(ended.iter().map(|row| row.id));
    }
    effect.notes.extend(promises::notes(desk, &touched)?);
    let views = made.iter().map(|booking| bookings::view(desk, *booking));
    Ok(Undone {
        bookings: views.collect::<Done<_>>()?,
        left,
        restored: active(desk, &effect.restored)?,
        changed: active(desk, &effect.changed)?,
        broken: promises::views(desk, &effect.broken)?,
        notes: effect.notes,
    })
}

fn active(desk: &mut Desk<'_>, promises: &[i64]) -> Done<Vec<Reservation>> {
    let mut views = promises::views(desk, promises)?;
    views.retain(|promise| promise.state == ReservationState::Active);
    Ok(views)
}
