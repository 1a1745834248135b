//! Settings of the workshop.

mod close;
