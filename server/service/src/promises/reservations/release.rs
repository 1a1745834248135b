//! Giving promises back.

use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure, invalid, not_before, wrong_state},
        perform::Perform,
    },
    promises,
};
use chrono::NaiveDate;
use ellwand_contract::reservations::{Release, Reserved};
use ellwand_domain::{
    code::{BookingCode, GarmentCode, ReservationCode},
    setting::{BookingKind, ReservationState},
};
use ellwand_storage::{Reservation, Subject};
use std::collections::BTreeSet;

impl Perform for Release {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Reserved, Failure> {
        let day = desk.context.day(self.date)?;
        let rows = named(desk, self)?;
        for row in &rows {
            check_day(desk, row, day)?;
        }
        let booking = desk.next_booking()?;
        let ids: Vec<i64> = rows.iter().map(|row| row.id).collect();
        let mut subjects = Vec::new();
        let mut reservations = Vec::new();
        for (row, shelved) in
            promises::release_all(desk, booking, rows, ReservationState::Released, None)?
        {
            let (garment, need) = promises::need_of(desk, &row)?;
            subjects.push((Subject::Garment, garment.id));
            reservations.push(promises::shown(
                desk.context,
                (&row, row.lengths),
                &need,
                &shelved,
                crate::shelf::worth::Worth::NOTHING,
            )?);
        }
        let codes: Vec<String> = ids
            .iter()
            .map(|id| ReservationCode::new(*id).to_string())
            .collect();
        let garments: BTreeSet<i64> = subjects.iter().map(|(_, id)| *id).collect();
        let bound = promises::resettle_bound_to(desk, booking, &garments)?;
        let garments: Vec<String> = garments
            .iter()
            .map(|id| GarmentCode::new(*id).to_string())
            .collect();
        let summary = format!("Released {} of {}.", codes.join(", "), garments.join(", "));
        let mut entry = Entry::new(BookingKind::Released, day, summary);
        entry.subjects = subjects;
        desk.book(booking, entry)?;
        let notes = promises::notes(desk, &ids)?;
        let broken = promises::views(desk, &bound.broken)?;
        Ok(Reserved {
            booking: BookingCode::new(booking),
            reservations,
            broken,
            notes,
        })
    }
}

/// Active promises that a release names, by their codes or by their garment.
fn named(desk: &mut Desk<'_>, request: &Release) -> Done<Vec<Reservation>> {
    let mut rows = Vec::new();
    for code in &request.reservations {
        let row = promises::row(desk, code.get())?;
        if row.state != ReservationState::Active {
            let detail = format!("{code} is no longer active: it was {}", row.state);
            let (garment, _) = promises::need_of(desk, &row)?;
            let garment = GarmentCode::new(garment.id);
            let hint = format!("see ellwand garment promises {garment}");
            return Err(wrong_state(detail, &hint)
                .naming("reservation", code)
                .naming("state", row.state));
        }
        rows.push(row);
    }
    if let Some(garment) = request.garment {
        crate::garments::need::load_head(desk, garment)?;
        for row in desk.tx.active_reservations_of_garment(garment.get())? {
            if !rows.iter().any(|other| other.id == row.id) {
                rows.push(row);
            }
        }
        if rows.is_empty() {
            let hint = format!("see ellwand garment promises {garment}");
            return Err(
                wrong_state(format!("{garment} has no active promise"), &hint)
                    .naming("garment", garment),
            );
        }
    }
    if rows.is_empty() {
        return Err(invalid(
            "reservations",
            "no promise is named: give codes such as R12, or --garment G5",
        ));
    }
    Ok(rows)
}

/// Refuses a day before the one that the promise was booked for.
fn check_day(desk: &mut Desk<'_>, row: &Reservation, day: NaiveDate) -> Done<()> {
    let made = desk.tx.booking(row.booking_id)?;
    let code = ReservationCode::new(row.id);
    not_before(day, made.map(|made| made.on_date), |made| {
        format!("{code} cannot be released on {day}: it was made on {made}")
    })?;
    Ok(())
}
