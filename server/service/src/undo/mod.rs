//! Taking a booking back by booking the opposite (rule 4).
//!
//! Refused, naming why, only where later acts depend on it. What promises the booking had ended are made
//! again under new codes where there is room; the ended ones stay ended.

mod closing;
mod corrected;
mod cut;
mod garment;
mod overwritten;
mod piece;
mod promise;
mod quotation;
mod rated;
mod receipt;
mod since;

use crate::{
    bookings,
    context::{Context, Entry},
    detail::Detail,
    failure::{Done, Failure, not_found},
    overhead,
    perform::Perform,
    pools, promises, quotations,
};
use ellwand_contract::{
    Problem, ProblemType,
    bookings::{Undo, Undone},
};
use ellwand_domain::{
    code::BookingCode,
    ledger::{AccountKind, Movement},
    setting::{BookingKind, Grant, PriceFrom},
};
use ellwand_storage::{Booking, Subject, Tx};

/// What taking a booking back did.
#[derive(Debug, Default)]
pub(crate) struct Effect {
    /// The opposite movements.
    movements: Vec<Movement>,
    /// Promises made again.
    restored: Vec<i64>,
    /// Promises that hold another length now.
    changed: Vec<i64>,
    /// Promises that no longer fit.
    broken: Vec<i64>,
    notes: Vec<String>,
}

impl Effect {
    /// Takes over what another part of the same undo did.
    fn absorb(&mut self, other: Self) {
        let Self {
            movements,
            restored,
            changed,
            broken,
            notes,
        } = other;
        self.movements.extend(movements);
        self.restored.extend(restored);
        self.changed.extend(changed);
        self.broken.extend(broken);
        self.notes.extend(notes);
    }
}

/// A booking to be taken back, and the one that does it.
pub(crate) struct Case<'a, 'b> {
    context: &'a Context<'b>,
    booking: i64,
    target: Booking,
    movements: Vec<Movement>,
}

impl Perform for Undo {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Undone, Failure> {
        let target = tx.booking(self.booking.get())?.ok_or_else(|| {
            not_found(
                format!("booking {}", self.booking),
                "see the history for the bookings there are",
            )
        })?;
        if let Some(by) = tx.undone_by(target.id)? {
            let detail = format!(
                "{} was taken back already by {}",
                self.booking,
                BookingCode::new(by)
            );
            return Err(cannot(detail, "nothing is left to undo"));
        }
        let movements: Vec<Movement> = tx
            .movements_of(&[target.id])?
            .iter()
            .map(|stored| stored.movement)
            .collect();
        // Whoever may not book such a loss may not take one back either.
        if movements
            .iter()
            .any(|movement| movement.to.kind == AccountKind::Abandoned)
        {
            context.caller.needs(Grant::WriteOffs)?;
        }
        let detail: Detail = serde_json::from_str(&target.detail).map_err(|error| {
            Problem::new(
                ProblemType::Internal,
                format!("the booking's detail: {error}"),
            )
        })?;
        let booking = context.next_booking(tx)?;
        let case = Case {
            context,
            booking,
            target,
            movements,
        };
        let mut effect = case.take_back(tx, detail)?;
        pools::taken_back(tx, case.target.id)?;
        tx.mark_undone(case.target.id, booking)?;
        case.garments_can_give(tx, &effect.movements)?;
        let mut entry = Entry::new(
            BookingKind::Undone,
            context.today,
            format!("Took back {}: {}", self.booking, case.target.summary),
        );
        entry.subjects = tx
            .subjects_of(case.target.id)?
            .into_iter()
            .map(|subject| (subject.subject.0, subject.subject_id))
            .collect();
        entry.movements = std::mem::take(&mut effect.movements);
        entry.undoes = Some(case.target.id);
        entry.detail = Detail::Undone {
            booking: case.target.id,
        };
        context.book(tx, booking, entry)?;
        case.settle_bound(tx, &mut effect)?;
        let mut touched: Vec<i64> = tx
            .reservations_ended_by(booking)?
            .iter()
            .map(|row| row.id)
            .collect();
        touched.extend(&effect.restored);
        effect.notes.extend(promises::notes(tx, context, &touched)?);
        Ok(Undone {
            booking: bookings::view(tx, booking)?,
            restored: promises::views(tx, context, &effect.restored)?,
            changed: promises::views(tx, context, &effect.changed)?,
            broken: promises::views(tx, context, &effect.broken)?,
            notes: effect.notes,
        })
    }
}

impl Case<'_, '_> {
    fn code(&self) -> BookingCode {
        BookingCode::new(self.target.id)
    }

    fn reversed(&self) -> Vec<Movement> {
        self.movements
            .iter()
            .rev()
            .map(|movement| movement.reversed())
            .collect()
    }

    fn take_back(&self, tx: &mut Tx<'_>, detail: Detail) -> Done<Effect> {
        match detail {
            Detail::Closed { before, to } => self.closed(tx, before, to),
            Detail::Bought { purchase, lots } => self.receipt(tx, purchase, &lots),
            Detail::Charged {
                purchase,
                gains,
                home,
            } => self.charge(tx, purchase, &gains, home),
            Detail::Edited {
                lot,
                before,
                after,
                dye_lot,
                places,
                widths,
                weighed,
            } => {
                let kept = overwritten::EditKept {
                    lot,
                    before,
                    after,
                    dye_lot,
                    places,
                    widths,
                    weighed,
                };
                self.edited(tx, &kept)
            }
            Detail::Placed { piece, before } => self.placed(tx, piece, before),
            Detail::Flawed {
                piece,
                before,
                structure,
            } => self.flawed(tx, piece, before, structure),
            Detail::Split {
                piece,
                made,
                quantity,
                end,
                flaws,
                structure,
            } => self.split(
                tx,
                &piece::SplitKept {
                    piece,
                    made,
                    quantity,
                    end,
                    flaws,
                    structure,
                },
            ),
            Detail::Remeasured { before } => self.remeasured(tx, &before),
            Detail::Tested { lot, before, strip } => self.tested(tx, lot, before.as_ref(), strip),
            Detail::Stiffened { lot, before, after } => self.stiffened(tx, lot, &before, &after),
            Detail::Planned { garment } => self.planned(tx, garment),
            Detail::Replanned {
                garment,
                before,
                after,
            } => self.replanned(tx, garment, &before, &after),
            Detail::Reserved { reservations } => self.reserved(tx, reservations),
            Detail::Released { reservations } => self.released(tx, &reservations),
            Detail::Cut(cut) => self.cut(tx, &cut),
            Detail::Worked { work: _, garment } => self.worked(tx, garment),
            Detail::Moved {
                garment,
                before,
                released,
                made,
                closed,
            } => {
                if self.target.kind.0 == BookingKind::Finished {
                    self.not_agreed(tx, garment, PriceFrom::Actual)?;
                }
                quotations::of_garment::open_again(tx, &closed)?;
                self.moved(tx, garment, before, &released, &made)
            }
            Detail::Quoted {
                quotation,
                version,
                reservations,
                moved,
            } => self.quoted(tx, quotation, version, reservations, &moved),
            Detail::Accepted {
                quotation,
                reservations,
                plan,
                kept,
            } => self.accepted(tx, quotation, reservations, (plan.as_deref(), &kept)),
            Detail::Dropped {
                quotation,
                before,
                released,
            } => self.dropped(tx, quotation, before, &released),
            Detail::Paid { quotation: _ } => Ok(Effect::default()),
            Detail::Rated {
                garment,
                detail,
                before,
            } => self.rated(tx, garment, &detail, before),
            Detail::Undone { .. } => Err(cannot(
                format!("{} takes another booking back", self.code()),
                "book the act again instead",
            )),
            Detail::None {} => Err(cannot(
                format!("{} has nothing to take back", self.code()),
                "change the record instead",
            )),
        }
    }

    /// Looks again at promises that must be of the lot of a garment whose promises or cuts are as they were.
    fn settle_bound(&self, tx: &mut Tx<'_>, effect: &mut Effect) -> Done<()> {
        let subjects = tx.subjects_of(self.target.id)?;
        let garments = subjects
            .iter()
            .filter(|row| row.subject.0 == Subject::Garment);
        let garments = garments.map(|row| row.subject_id).collect();
        let settled = promises::resettle_bound_to(tx, self.context, self.booking, &garments)?;
        effect.restored.retain(|id| !settled.broken.contains(id));
        effect.settled(settled);
        Ok(())
    }

    fn worked(&self, tx: &mut Tx<'_>, garment: i64) -> Done<Effect> {
        self.garment_open(tx, garment)?;
        self.not_agreed(tx, garment, PriceFrom::Actual)?;
        let own = self.context.person(tx)?;
        let all = tx.work(garment)?;
        for work in all.iter().filter(|work| work.booking_id == self.target.id) {
            if work.person_id != own {
                self.context.caller.needs(Grant::PayRates)?;
            }
            overhead::reverse(tx, self.context, work, -1, false)?;
        }
        Ok(Effect::default())
    }
}

/// Refuses, naming why.
fn cannot(detail: impl Into<String>, hint: &str) -> Failure {
    Problem::new(ProblemType::CannotUndo, detail)
        .hint(hint)
        .into()
}
