//! The queries, written once and mounted for each dialect (`sqlite/mod.rs`, `postgresql/mod.rs`): the
//! mount supplies `Conn`. [`crate::Tx`] lists them all.

use super::Conn;

pub mod audit;
pub mod bookings;
pub mod garments;
pub mod lots;
pub mod pieces;
pub mod purchases;
pub mod reservations;
pub mod shelf;
pub mod workshop;
