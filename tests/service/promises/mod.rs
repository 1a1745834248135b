//! Promises of pieces to needs.

mod backdated;
mod cost;
mod ended;
mod reels;
