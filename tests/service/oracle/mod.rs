//! A second book, written from the rules' text alone, to compare the real one with.
//!
//! It knows nothing of tables, movements or statements: it holds the acts in their order, works every figure
//! out in exact fractions, and rounds to millionths only where a booking rounds. Undoing an act is, here, the
//! history *without* that act, worked out anew; what a standing taking took stays as it was taken, since a
//! booking never changes.
//!
//! Sources: the rules of the ledger (stock value, cost layers, late charges, undo) and the worked examples of
//! the costing reference, cited at each test.
#![allow(
    clippy::inconsistent_digit_grouping,
    reason = "money is grouped before its cents"
)]

pub mod acts;
pub mod charges;
pub mod fraction;
pub mod history;
pub mod labour;
pub mod leftover;
pub mod plan;
pub mod purchase;
pub mod receipts;
pub mod stock;
pub mod taking;
pub mod undo;
pub mod wash;

mod cloth_examples;
mod examples;
mod undo_examples;

pub use acts::{Act, ActId, Gone, Key, Kind, Line, LotId, Method, PieceId, Place, Refusal};
pub use history::History;
pub use undo::Verdict;
