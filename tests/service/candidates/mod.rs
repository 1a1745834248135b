//! Which pieces serve which needs.

mod together;
