//! Which pieces serve which needs.

mod by_name;
mod together;
mod why;
