//! Plans of garments.

mod parts;
mod taken_over;
mod trims;
