//! Why a seam's thread could not be worked out.

use crate::quantity::QuantityError;

/// Why a seam was refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum SeamError {
    /// A number that is not in the standard.
    #[error("{text} is not a stitch type of ISO 4915; the nearest known ones are {nearest}")]
    NotAStitch {
        /// What was typed.
        text: String,
        /// The nearest numbers.
        nearest: String,
    },
    /// A word that names no stitch.
    #[error(
        "\"{text}\" is not a stitch: give a number of ISO 4915, for example 301, or one of {known}"
    )]
    NotAWord {
        /// What was typed.
        text: String,
        /// The words.
        known: String,
    },
    /// Nothing is known of the stitch that its thread could be worked out from.
    #[error("how much thread {stitch} takes is unknown: {why}")]
    Unknown {
        /// The number.
        stitch: String,
        /// What is missing.
        why: String,
    },
    /// A measure that the formula needs.
    #[error("the {stitch} has no {measure}; its formula is {formula}")]
    Missing {
        /// The stitch.
        stitch: &'static str,
        /// The key of the measure.
        measure: &'static str,
        /// The formula.
        formula: &'static str,
    },
    /// A measure of nothing.
    #[error("the {measure} must be more than zero")]
    NotPositive {
        /// The key of the measure.
        measure: &'static str,
    },
    /// A measure beyond a metre.
    #[error("the {measure} of a stitch is a metre or less")]
    TooLarge {
        /// The key of the measure.
        measure: &'static str,
    },
    /// A count outside 1 … 10 000.
    #[error(
        "a count of {count} is not possible; seams, and stitches in an item, count from 1 to 10 000"
    )]
    Count {
        /// What was requested.
        count: i64,
    },
    /// A seam without a length.
    #[error("the seam has no length")]
    NoLength,
    /// A sample of no seam or no thread.
    #[error(
        "a sample needs a length of seam, needle thread, and under thread if the stitch has one"
    )]
    EmptySample,
    /// Thread shorter than its seam.
    #[error(
        "each thread is at least as long as the seam that it runs along; read the sample again"
    )]
    ShortSample,
    /// Under thread for a stitch that has none.
    #[error("{stitch} has one thread only, so it has no under thread and no share")]
    OneThread {
        /// The stitch.
        stitch: String,
    },
    /// A share outside 0 … 100 %.
    #[error("the needle thread's share is between 0 % and 100 %")]
    Share,
    /// Two roles, and nobody knows how much each gives.
    #[error("for {stitch} only the total is known, not how much of it is needle thread")]
    ShareUnknown {
        /// The number.
        stitch: String,
    },
    /// Beyond what the book holds.
    #[error("the thread is more than the book can hold (10 000 km)")]
    Overflow,
}

impl From<QuantityError> for SeamError {
    fn from(_: QuantityError) -> Self {
        Self::Overflow
    }
}
