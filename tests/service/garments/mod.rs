//! Plans of garments.

mod changes;
mod late_bills;
mod parts;
mod taken_over;
mod trims;
