//! Making promises, giving them back, showing them.

mod reels;
mod release;
mod reserve;
mod set;
mod units;

pub(crate) use reels::taken_already;
pub(crate) use reserve::Promised;
pub(crate) use reserve::{active_of, check_open, need_named, promise_all};
pub(crate) use units::PromisedParts;

use crate::{context::Context, failure::Failure, perform::Perform, promises};
use ellwand_contract::reservations::{GetReservation, Reservation};
use ellwand_storage::Tx;

impl Perform for GetReservation {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Reservation, Failure> {
        let row = promises::row(tx, self.reservation.get())?;
        promises::view(tx, context, &row)
    }
}
