//! Promises computed anew when their piece or need changed (rules 3 and 6).

use super::{
    Settled, Takes, end, end_overdue, internal,
    parts::{Lost, divide},
    row,
    takes::need_held,
};
use crate::{
    desk::{Desk, failure::Done},
    garments::need::NeedRecord,
    shelf::shelved::Shelved,
};
use ellwand_domain::{ledger::Hold, setting::ReservationState};
use ellwand_storage::{Reservation, Tx};

/// A promise that is to be put into its piece again.
struct Waiting {
    row: Reservation,
    need: NeedRecord,
    takes: Takes,
}

/// Computes anew what every promise on a piece holds, finds places for them in the order of rule 6, and
/// breaks those that no longer fit. Writes the promises; the caller saves the piece.
pub(crate) fn resettle(
    desk: &mut Desk<'_>,
    booking: i64,
    shelved: &mut Shelved,
    because: &str,
) -> Done<Settled> {
    resettle_last(desk, booking, shelved, because, &[])
}

/// The same, but promises that are named give way to all others.
pub(crate) fn resettle_last(
    desk: &mut Desk<'_>,
    booking: i64,
    shelved: &mut Shelved,
    because: &str,
    last: &[i64],
) -> Done<Settled> {
    end_overdue(desk, booking, shelved)?;
    let mut settled = Settled::default();
    let waiting = work_out(desk, booking, shelved, because, &mut settled)?;
    let broken = shelved
        .stored
        .piece
        .settle_apart(last)
        .map_err(|error| internal(shelved, &error))?;
    let why = match shelved.stored.piece.rectangle {
        Some(_) => "no stretch is long enough now",
        None => "there is not enough of it now",
    };
    let why = format!("{because}: {why}");
    let mut lost = Vec::new();
    for waiting in waiting {
        let id = waiting.row.id;
        let broken = broken.iter().find(|hold| hold.reservation == id);
        lost.push((
            id,
            place(
                desk,
                booking,
                shelved,
                waiting,
                (broken, &why),
                &mut settled,
            )?,
        ));
    }
    // In the order of rule 6.
    for hold in &broken {
        let of = lost.iter().find(|(id, _)| *id == hold.reservation);
        settled.broken.extend(of.and_then(|(_, broken)| *broken));
    }
    Ok(settled)
}

/// Works out what each promise takes now. Those that need no more end, and those that the piece does not serve any more break.
fn work_out(
    desk: &mut Desk<'_>,
    booking: i64,
    shelved: &mut Shelved,
    because: &str,
    settled: &mut Settled,
) -> Done<Vec<Waiting>> {
    let mut waiting = Vec::new();
    for hold in shelved.stored.piece.holds.clone() {
        let mut row = row(desk, hold.reservation)?;
        let (garment, need) = need_held(desk, &row)?;
        let takes = Takes::of_need(desk, (&garment, &need), shelved, &row)?;
        let (state, why) = match takes {
            Ok(takes) if !takes.least.is_zero() => {
                let (least, most, apart) = (takes.least, takes.most, takes.apart);
                let piece = &mut shelved.stored.piece;
                piece
                    .resize_hold_apart(row.id, least, most, apart)
                    .map_err(|error| internal(shelved, &error))?;
                waiting.push(Waiting { row, need, takes });
                continue;
            }
            // What the cuts drew covers the promise as it is now.
            Ok(_) => (ReservationState::Cut, None),
            Err(reason) => {
                settled.broken.push(row.id);
                let why = format!("{because}: {}", reason.text);
                (ReservationState::Broken, Some(why))
            }
        };
        shelved
            .stored
            .piece
            .release(row.id)
            .map_err(|error| internal(shelved, &error))?;
        end(desk, booking, &mut row, state, why)?;
    }
    Ok(waiting)
}

/// Writes where a promise lies now, divided where it must be, and what of it is broken; returns that.
fn place(
    tx: &mut Tx<'_>,
    booking: i64,
    shelved: &mut Shelved,
    waiting: Waiting,
    (broken, why): (Option<&Hold>, &str),
    settled: &mut Settled,
) -> Done<Option<i64>> {
    let Waiting {
        mut row,
        need,
        takes,
    } = waiting;
    let id = row.id;
    if shelved.stored.piece.hold(id).is_none() {
        // It keeps the sum of what it held, so that an undo makes it again so.
        let why = Some(why.to_owned());
        end(tx, booking, &mut row, ReservationState::Broken, why)?;
        return Ok(Some(id));
    }
    let (held, lengths) = (row.held, row.lengths);
    let lost = broken.map(|hold| Lost {
        lengths: hold.apart.map_or(1, |apart| apart.number),
        because: why.to_owned(),
    });
    let piece = &mut shelved.stored.piece;
    let (made, broken) = divide(tx, booking, (&need, &takes), piece, &mut row, lost)?;
    for new in &made {
        if let Some(until) = row.until {
            shelved.stored.until.insert(*new, until);
        }
    }
    settled.divided.extend(made.iter().map(|new| (id, *new)));
    if let Some(hold) = shelved.stored.piece.hold(id).copied() {
        if (hold.quantity.get(), row.lengths) != (held, lengths) {
            settled.changed.push(id);
        }
        let divided = row.lengths != lengths;
        let row = takes.write(tx, &need, row, &hold)?;
        if divided {
            tx.update_reservation(&row)?;
        }
    }
    settled.changed.extend(made);
    Ok(broken)
}
