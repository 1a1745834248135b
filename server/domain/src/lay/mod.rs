//! Lays: parts on cloth, checked exactly. Whole micrometres, products in `i128`, no floats.
//!
//! A [`Lay`] has one constructor, and that is the check: whoever holds one holds parts that lie inside the cloth, nowhere one over
//! another, each as often as it is cut and only in directions that its grain and the cloth allow. Whatever packs is not trusted.
#![expect(
    clippy::arithmetic_side_effects,
    reason = "corners lie within 100 m and lays within 1 km, so that sums fit i64 and products i128; each constructor sees to it"
)]

mod blocks;
mod check;
mod cloth;
mod error;
mod kept;
mod ladder;
mod meet;
mod outline;
mod point;
mod strip;
mod turn;
mod used;

pub use check::{Lay, Placement};
pub use cloth::{LayCloth, LayPart, Ways};
pub use error::{LayError, OutlineError};
pub use kept::{KeptError, KeptLay, LaidParts, MOST_RUNGS};
pub use ladder::{Ladder, MOST_PACKED, Rectangles, Rung};
pub use outline::Outline;
pub use point::{Bounds, Point};
pub use turn::Turn;
pub use used::Used;

/// Number of the form in which outlines and lays are kept.
pub const FORMAT: u32 = 1;
