//! `ellwand buy`: purchases.

mod charge;
mod opening;
mod reels;
