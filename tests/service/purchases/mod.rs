//! Purchases and what comes after them.

mod exchange_rate;
mod late_charges;
mod opening;
mod reels;
mod twice;
mod unpriced;
