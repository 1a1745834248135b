//! Trims: their sizes, and sets of them that must match.

mod ligne;
mod set;
mod size;

pub use ligne::{Ligne, STOCKED, nearest};
pub use set::{Card, Share, fill, join, lacking};
pub use size::{NEAR_UM, TOLERANCE_UM, TrimSize};
