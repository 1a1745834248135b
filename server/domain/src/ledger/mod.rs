//! The ledger: pieces with their promises, what acts do to them, and the movements they leave.

mod account;
mod change;
mod cut;
mod dispose;
mod error;
mod layout;
mod order;
mod piece;
mod place;
mod promise;
mod quantity;
mod waste;

pub use account::{Account, AccountKind, Movement};
pub use change::SplitOff;
pub use error::LedgerError;
pub use order::{CutEffect, CutOrder, Panel};
pub use piece::{Flaw, Piece, Rectangle, Stretch};
pub use promise::{Apart, Hold, Rank};
pub use quantity::Quantity;
