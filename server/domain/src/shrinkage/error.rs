//! Why a shrinkage was refused.

use super::{Direction, Preparation};
use crate::quantity::{PartsPerMillion, QuantityError};

/// Why a shrinkage, a wash test or a preparation was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ShrinkageError {
    /// Nothing would be left.
    #[error("a shrinkage of {shrinkage} leaves no cloth, it must be below 100 %")]
    NothingLeft {
        /// What was given.
        shrinkage: PartsPerMillion,
    },
    /// A length before or after that is not above zero.
    #[error("a length before or after is zero, both must be measured")]
    ZeroReading,
    /// A test without any marks.
    #[error("the wash test has no readings, give one to three pairs of marks in a direction")]
    NoReadings,
    /// A test without a cycle.
    #[error("the wash test has no cycle, give the readings after the first one")]
    NoCycles,
    /// More than three pairs of marks, or more cycles than are counted.
    #[error("the wash test has {found} {what}, at most {most} are kept")]
    TooMany {
        /// "pairs of marks" or "cycles".
        what: &'static str,
        /// How many were given.
        found: usize,
        /// How many are kept.
        most: usize,
    },
    /// Marks that were not read again.
    #[error(
        "{direction} there are {before} readings before and {after} after cycle {cycle}, each mark needs both"
    )]
    UnequalCounts {
        /// The direction.
        direction: Direction,
        /// The cycle, from 1.
        cycle: usize,
        /// Readings before.
        before: usize,
        /// Readings after that cycle.
        after: usize,
    },
    /// A test of no preparation at all.
    #[error("a wash test needs a preparation to test: washed or steamed")]
    NothingTested,
    /// No source knows.
    #[error(
        "the lengthwise shrinkage when {preparation} is unknown, test a swatch or state a value"
    )]
    Unknown {
        /// Preparation requested.
        preparation: Preparation,
    },
    /// No source knows what a further wash does.
    #[error("what a further wash does to cloth that is then {preparation} is unknown, measure it")]
    UnknownStep {
        /// Preparation after it.
        preparation: Preparation,
    },
    /// A text that names no preparation.
    #[error("\"{text}\" is not a preparation, use none, raw, washed, washed x3 or steamed")]
    Preparation {
        /// What was typed.
        text: String,
    },
    /// A number.
    #[error(transparent)]
    Quantity(#[from] QuantityError),
}
