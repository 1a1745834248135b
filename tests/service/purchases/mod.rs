//! Purchases and what comes after them.

mod exchange_rate;
mod late_charges;
mod reels;
mod unpriced;
