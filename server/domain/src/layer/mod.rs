//! Cost layers of materials whose lots are alike enough to be pooled: thread and trims.
//!
//! First in, first out keeps one layer per receipt; the moving average keeps one pool (IAS 2 paras 25–27). A layer is a
//! quantity and a value; no unit cost is stored, because a rounded one drifts.

mod beside;
mod error;
mod method;
mod receive;
mod replay;
mod share;
mod take;

pub use beside::{Left, worth_beside};
pub use error::LayerError;
pub use method::Method;
pub use receive::{put_back, receive};
pub use replay::{Replay, ReplayFault, Step};
pub use share::{PoolShare, WHOLE, shares_taken};
pub use take::{draw_down, lose, take, take_own_first};

use crate::quantity::Millionths;

/// What is left of one receipt, or of the pool.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Layer {
    /// The layer's identity in the book.
    pub id: i64,
    /// Its place in the order of receipt.
    pub sequence: i64,
    /// What is left, in micrometres or pieces; never negative.
    pub quantity: i64,
    /// What it is worth; exactly zero once the quantity is.
    pub value: Millionths,
}

/// What one taking took from one layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// The layer's identity.
    pub layer: i64,
    /// Micrometres or pieces.
    pub quantity: i64,
    /// Cost of that quantity.
    pub value: Millionths,
}
