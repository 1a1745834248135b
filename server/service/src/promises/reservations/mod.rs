//! Making promises, giving them back, showing them.

mod promise;
mod reels;
mod release;
mod reserve;
mod set;
mod units;

pub(crate) use reels::taken_already;
pub(crate) use reserve::Promised;
pub(crate) use reserve::{active_of, check_open, need_named, promise_all};
pub(crate) use units::of_another_lot;

use crate::{
    desk::{Desk, failure::Failure, page, perform::Perform},
    garments::need::load_head,
    promises,
};
use ellwand_contract::{
    Meta,
    reservations::{GetReservation, ListReservations, Reservation, Reservations},
};
use ellwand_domain::code::ReservationCode;

/// Rows a page, when none are asked for and at most.
const LIMIT: (u32, u32) = (50, 200);

impl Perform for ListReservations {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Reservations, Failure> {
        load_head(desk, self.garment)?;
        let limit = i64::from(page::rows(self.limit, LIMIT.0, LIMIT.1)?);
        let before = match &self.after {
            Some(text) => text
                .parse::<ReservationCode>()
                .map_err(|_| {
                    page::refused(
                        "after",
                        format!("\"{text}\" is not a cursor of the promises"),
                    )
                })?
                .get(),
            None => i64::MAX,
        };
        let garment = self.garment.get();
        let mut rows =
            desk.tx
                .reservations_before(garment, self.state, before, limit.saturating_add(1))?;
        let most = usize::try_from(limit).unwrap_or(usize::MAX);
        let more = rows.len() > most;
        rows.truncate(most);
        let next = rows
            .last()
            .filter(|_| more)
            .map(|row| ReservationCode::new(row.id).to_string());
        let views = rows
            .iter()
            .map(|row| promises::view(desk, row))
            .collect::<Result<_, _>>()?;
        Ok(Reservations {
            reservations: views,
            meta: Meta { next },
        })
    }
}

impl Perform for GetReservation {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Reservation, Failure> {
        let row = promises::row(desk, self.reservation.get())?;
        promises::view(desk, &row)
    }
}
