//! What garments cost, planned and actual.

mod backdated;
mod estimates;
mod own_lot;
mod plan;
mod sheet;
