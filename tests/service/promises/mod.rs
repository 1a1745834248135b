//! Promises of pieces to needs.

mod cost;
mod ended;
mod reels;
