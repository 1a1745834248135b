//! Why a cost could not be worked out.

use crate::{allocation::AllocationError, quantity::QuantityError};

/// Why a cost could not be worked out.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum CostError {
    /// A rate over no activity.
    #[error(
        "a rate needs a base of more than zero hours, not {minutes} min; give the hours it is spread over"
    )]
    ZeroBase {
        /// Minutes given.
        minutes: i64,
    },
    /// A rate below zero.
    #[error("a pay or overhead rate must not be negative")]
    NegativeRate,
    /// A used or lost quantity or value below zero.
    #[error("{name} has a negative quantity or value; it must be zero or more")]
    NegativeLine {
        /// The line.
        name: String,
    },
    /// A batch of none, or of more than can be listed one by one.
    #[error("a batch of {started} cannot be costed; it has from 1 to {max} garments")]
    BatchSize {
        /// Garments started.
        started: i64,
        /// Most that are listed.
        max: i64,
    },
    /// More good ones than were started, or fewer than none.
    #[error("there cannot be {good} good garments of {started} started")]
    GoodCount {
        /// Garments reported good.
        good: i64,
        /// Garments started.
        started: i64,
    },
    /// Normal spoilage of the whole batch.
    #[error("no garment of {started} is good, so none can carry the cost; book it as a loss")]
    NoneGood {
        /// Garments started.
        started: i64,
    },
    /// A batch that cost less than nothing.
    #[error("the total of a batch must not be negative")]
    NegativeTotal,
    /// Salvage of nothing, below zero, or above what the spoiled ones cost.
    #[error("the salvage must be between zero and what the spoiled garments cost")]
    Salvage,
    /// Overhead spent below zero.
    #[error("the overhead that was spent must not be negative, not {given}")]
    NegativeSpent {
        /// What was given.
        given: String,
    },
    /// The arithmetic of a split.
    #[error(transparent)]
    Allocation(#[from] AllocationError),
    /// A sum beyond the book.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
