//! Why the ledger refused an act.

use super::Quantity;
use crate::quantity::QuantityError;

/// Why an act on a piece was refused; nothing has changed then.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LedgerError {
    /// More than the piece has.
    #[error("the piece has less than that")]
    ExceedsOnHand {
        /// What was requested.
        wanted: Quantity,
        /// What the piece has.
        on_hand: Quantity,
    },
    /// More than is free, or no single stretch has it free.
    #[error("that much is not free")]
    ExceedsAvailable {
        /// What was requested.
        wanted: Quantity,
        /// Free in all.
        free: Quantity,
        /// Longest free length in one stretch.
        longest_free: Quantity,
        /// Reservations that hold the rest.
        held_by: Vec<i64>,
    },
    /// Free in all, but not in one stretch.
    #[error("a flaw is in the way")]
    CrossesFlaw {
        /// What was requested.
        wanted: Quantity,
        /// Longest free length in one stretch.
        longest_free: Quantity,
    },
    /// A panel wider than the piece.
    #[error("the panel is wider than the piece")]
    TooWide {
        /// Width requested, in micrometres.
        wanted: Quantity,
        /// Usable width, in micrometres.
        usable: Quantity,
    },
    /// Nothing was requested.
    #[error("the quantity must be more than zero")]
    Zero,
    /// A position beyond the piece.
    #[error("the position is beyond the piece")]
    BeyondEnd {
        /// Position.
        at: Quantity,
        /// Length of the piece.
        on_hand: Quantity,
    },
    /// No such promise on the piece.
    #[error("the piece has no such promise")]
    NoSuchPromise,
    /// Only a rectangle has flaws, width, panels.
    #[error("only cloth and interlining have a width")]
    NotARectangle,
    /// Outside the limits of the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
