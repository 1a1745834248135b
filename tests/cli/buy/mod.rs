//! `ellwand buy`: purchases.

mod charge;
mod reels;
