//! Garments: planned, shown, finished, handed over, given up.

mod cancel;
mod cautions;
mod change;
pub(crate) mod details;
pub(crate) mod edit;
mod estimate;
mod finish;
mod kept;
mod list;
pub(crate) mod need;
pub(crate) mod operation;
mod outgrown;
mod plan;
mod repairs;
pub(crate) mod seams;
pub(crate) mod show;

use crate::desk::{
    Desk,
    failure::{Done, not_before, wrong_state},
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::GarmentCode,
    ledger::{Account, AccountKind, Movement},
    quantity::Millionths,
    setting::{BookingKind, GarmentState},
};
use ellwand_storage::{Garment, StoredMovement, Subject, Tx};

/// What the ledger says of a garment.
pub(crate) struct Balance {
    /// Movements from and to it, with their business dates.
    pub(crate) movements: Vec<(StoredMovement, NaiveDate)>,
    /// What it is worth now.
    pub(crate) value: Millionths,
    /// Materials used, less what went back or to another garment.
    pub(crate) used: Millionths,
}

impl Balance {
    pub(crate) fn read(tx: &mut Tx<'_>, garment: i64) -> Done<Self> {
        let account = Account::garment(garment);
        let movements = tx.movements_at(account)?;
        let (mut value, mut used) = (Millionths::ZERO, Millionths::ZERO);
        for (stored, _) in &movements {
            let movement = stored.movement;
            let (other, signed) = match movement.to == account {
                true => (movement.from.kind, movement.value),
                false => (movement.to.kind, movement.value.negated()),
            };
            value = value.plus(signed)?;
            let material = matches!(
                other,
                AccountKind::Piece
                    | AccountKind::Layer
                    | AccountKind::Supplier
                    | AccountKind::Opening
                    | AccountKind::Garment
            );
            if material {
                used = used.plus(signed)?;
            }
        }
        Ok(Self {
            movements,
            value,
            used,
        })
    }

    /// The business date of an act on the garment: not before its material, its last work and the day it was finished. A bill for
    /// its material may come later, as long as what leaves it was there on that day.
    pub(crate) fn day(
        &self,
        desk: &mut Desk<'_>,
        garment: &Garment,
        asked: Option<NaiveDate>,
        leaves: Millionths,
    ) -> Done<NaiveDate> {
        let day = desk.context.day(asked)?;
        let worked = desk
            .tx
            .work(garment.id)?
            .into_iter()
            .map(|work| work.on_date);
        let finished =
            desk.tx
                .standing_bookings(Subject::Garment, garment.id, BookingKind::Finished)?;
        let bill = |line: &Movement| line.from.kind.is_source() || line.to.kind.is_source();
        let there = self.worth_on(garment.id, day)? >= leaves;
        let moved = self.movements.iter();
        let moved = moved.filter(|(stored, _)| !(there && bill(&stored.movement)));
        let moved = moved.map(|(_, on)| *on);
        let last = moved
            .chain(worked)
            .chain(finished.into_iter().map(|booking| booking.on_date))
            .max();
        let code = GarmentCode::new(garment.id);
        not_before(day, last, |last| {
            format!("{code} was not done on {day}: its last work, bill or booking is from {last}")
        })
    }
}

impl Balance {
    /// What the garment was worth at the end of a day.
    fn worth_on(&self, garment: i64, day: NaiveDate) -> Done<Millionths> {
        let account = Account::garment(garment);
        let mut worth = Millionths::ZERO;
        for (stored, _) in self.movements.iter().filter(|(_, on)| *on <= day) {
            let value = stored.movement.value;
            worth = match stored.movement.to == account {
                true => worth.plus(value)?,
                false => worth.minus(value)?,
            };
        }
        Ok(worth)
    }
}

/// Refuses a garment that is finished, delivered or cancelled.
fn check_in_hand(garment: &Garment, what: &str) -> Done<()> {
    match garment.state {
        GarmentState::Planned | GarmentState::CutInto => Ok(()),
        state => {
            let code = GarmentCode::new(garment.id);
            Err(wrong_state(
                format!("{code} is {state}, so it cannot be {what}"),
                "plan another one with ellwand garment copy",
            )
            .naming("garment", code)
            .naming("state", state))
        }
    }
}
