//! The ledger: what was booked, taking it back, and checking that all of it adds up.

pub(crate) mod audit;
pub(crate) mod bookings;
pub(crate) mod month;
pub(crate) mod undo;
