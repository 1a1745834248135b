//! Plans of garments.

mod changes;
mod parts;
mod taken_over;
mod trims;
