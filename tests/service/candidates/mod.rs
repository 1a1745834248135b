//! Which pieces serve which needs.

mod by_name;
mod colours;
mod together;
mod why;
