//! Cuts: what they fill, and what is left beside them.

mod offcuts;
mod parts;
mod units;
