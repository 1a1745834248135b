//! Settings of the workshop.

mod close;
mod set;
