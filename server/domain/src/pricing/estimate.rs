//! How long a garment will take, from those that were made.

use super::{PricingError, check::overflow};
use crate::{
    certainty::Certainty,
    quantity::{Minutes, fraction::Fraction},
};

/// Past garments that are needed before a lowest and a highest mean anything (common practice).
pub const MIN_FOR_RANGE: usize = 3;

/// What one past garment, or a batch of like ones, took.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PastWork {
    /// Minutes of all its garments, own mistakes left out.
    pub minutes: Minutes,
    /// Garments of the batch; a batch counts as one experience, however large.
    pub garments: i64,
}

/// Minutes that one garment is likely to take, and how that is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimeEstimate {
    /// From three past garments or more; `low ≤ likely ≤ high`.
    Range {
        /// The shortest.
        low: Minutes,
        /// The median.
        likely: Minutes,
        /// The longest.
        high: Minutes,
        /// Past garments or batches behind it.
        count: usize,
    },
    /// From one or two past garments: too few for a range.
    Few {
        /// The median.
        likely: Minutes,
        /// Past garments or batches behind it.
        count: usize,
    },
    /// Typed, for want of past garments.
    Typed {
        /// What was typed.
        likely: Minutes,
    },
}

impl TimeEstimate {
    /// Minutes per garment from past ones, else as typed; `None` without either.
    ///
    /// - Formula: each past garment or batch gives minutes ÷ garments; lowest, median, highest of them. The median of an
    ///   even number is the mean of the two in the middle.
    /// - Rounding: everything exact until the end; then `low` down, `likely` to the nearest minute with halves up, `high`
    ///   up, so that the range holds every past garment.
    /// - Past garments are preferred to a typed figure.
    ///
    /// # Errors
    /// [`PricingError::NoGarments`] for a batch of none, overflow.
    pub fn of(past: &[PastWork], typed: Option<Minutes>) -> Result<Option<Self>, PricingError> {
        let each = sorted_per_garment(past)?;
        let count = each.len();
        let (Some(first), Some(last)) = (each.first(), each.last()) else {
            return Ok(typed.map(|likely| Self::Typed { likely }));
        };
        let middle = median(&each).ok_or_else(overflow)?;
        let whole = |minutes: Option<i64>| {
            Ok::<_, PricingError>(Minutes::new(minutes.ok_or_else(overflow)?)?)
        };
        let likely = whole(middle.nearest())?;
        if count < MIN_FOR_RANGE {
            return Ok(Some(Self::Few { likely, count }));
        }
        Ok(Some(Self::Range {
            low: whole(first.floor())?,
            likely,
            high: whole(last.ceil())?,
            count,
        }))
    }

    /// What to reckon with.
    #[must_use]
    pub const fn likely(&self) -> Minutes {
        match self {
            Self::Range { likely, .. } | Self::Few { likely, .. } | Self::Typed { likely } => {
                *likely
            }
        }
    }

    /// Measured where it comes from work that was logged, else estimated.
    #[must_use]
    pub const fn certainty(&self) -> Certainty {
        match self {
            Self::Range { .. } | Self::Few { .. } => Certainty::Measured,
            Self::Typed { .. } => Certainty::Estimated,
        }
    }
}

/// Exact minutes per garment, the shortest first.
fn sorted_per_garment(past: &[PastWork]) -> Result<Vec<Fraction>, PricingError> {
    let mut past = past.to_vec();
    // a / m against b / n is a × n against b × m, and two i64 always fit.
    let product = |a: i64, b: i64| i128::from(a).saturating_mul(i128::from(b));
    past.sort_by(|one, other| {
        product(one.minutes.get(), other.garments).cmp(&product(other.minutes.get(), one.garments))
    });
    let each = past.iter().map(|work| {
        let (minutes, garments) = (work.minutes.get(), work.garments);
        let none = PricingError::NoGarments { minutes, garments };
        Fraction::new(i128::from(minutes), i128::from(garments)).ok_or(none)
    });
    each.collect()
}

/// The middle one of sorted values, or the mean of the two in the middle; `None` of none, or beyond `i128`.
pub(super) fn median(sorted: &[Fraction]) -> Option<Fraction> {
    let upper = sorted.len().div_euclid(2);
    let high = sorted.get(upper)?;
    if sorted.len().rem_euclid(2) == 1 {
        return Some(*high);
    }
    sorted.get(upper.checked_sub(1)?)?.plus(*high)?.times(1, 2)
}
