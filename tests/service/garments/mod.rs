//! Plans of garments.

mod late_bills;
mod parts;
mod taken_over;
mod trims;
