//! What a detail takes across garments, against what it was worth.

use super::{PricingError, check::overflow, estimate::median};
use crate::quantity::{Millionths, Minutes, fraction::Fraction};

/// What a detail took on one garment, or on a batch of the same one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PastDetail {
    /// Minutes of the whole batch.
    pub minutes: Minutes,
    /// What they and the detail's materials cost, for the whole batch.
    pub cost: Millionths,
    /// Garments of the batch; a batch counts as one experience, however large.
    pub garments: i64,
}

/// Lowest, median and highest of one garment each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spread {
    /// Rounded down.
    pub low: i64,
    /// The median, to the nearest; halves away from zero.
    pub median: i64,
    /// Rounded up.
    pub high: i64,
}

impl Spread {
    /// Of amounts shared by so many garments each; `None` of none.
    ///
    /// - Formula: each gives amount ÷ garments; the median of an even number is the mean of the two in the middle.
    /// - Rounding: exact until the end.
    ///
    /// # Errors
    /// [`PricingError::NoGarments`] for a batch of none, overflow.
    pub fn of(shared: &[(i64, i64)]) -> Result<Option<Self>, PricingError> {
        let mut sorted = shared.to_vec();
        // a / m against b / n is a × n against b × m, and two i64 always fit.
        let product = |a: i64, b: i64| i128::from(a).saturating_mul(i128::from(b));
        sorted.sort_by(|one, other| product(one.0, other.1).cmp(&product(other.0, one.1)));
        let each = sorted.into_iter().map(|(amount, garments)| {
            let none = PricingError::NoGarments {
                minutes: amount,
                garments,
            };
            if garments < 1 {
                None
            } else {
                Fraction::new(i128::from(amount), i128::from(garments))
            }
            .ok_or(none)
        });
        let each = each.collect::<Result<Vec<_>, _>>()?;
        let (Some(first), Some(last)) = (each.first(), each.last()) else {
            return Ok(None);
        };
        let whole = |value: Option<i64>| value.ok_or_else(overflow);
        let middle = median(&each).ok_or_else(overflow)?;
        Ok(Some(Self {
            low: whole(first.floor())?,
            median: whole(middle.nearest())?,
            high: whole(last.ceil())?,
        }))
    }
}

/// The average of ratings in tenths, halves up: 4 and 5 and 4 are 43. `None` of none.
#[must_use]
pub fn rated_tenths(ratings: &[i64]) -> Option<i64> {
    let count = i64::try_from(ratings.len())
        .ok()
        .filter(|count| *count > 0)?;
    let sum = ratings
        .iter()
        .try_fold(0_i64, |sum, rating| sum.checked_add(*rating))?;
    let twice = sum.checked_mul(20)?.checked_add(count)?;
    Some(twice.div_euclid(count.checked_mul(2)?))
}

/// What a detail takes and what it was worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Worth {
    /// Minutes for one garment.
    pub minutes: Spread,
    /// Millionths of the currency for one garment.
    pub cost: Spread,
    /// Average rating in tenths; `None` where nobody rated it.
    pub rated_tenths: Option<i64>,
}

impl Worth {
    /// From past garments and their ratings; `None` without a garment.
    ///
    /// # Errors
    /// Those of [`Spread::of`].
    pub fn of(past: &[PastDetail], ratings: &[i64]) -> Result<Option<Self>, PricingError> {
        let spread = |amount: fn(&PastDetail) -> i64| {
            let shared: Vec<(i64, i64)> =
                past.iter().map(|one| (amount(one), one.garments)).collect();
            Spread::of(&shared)
        };
        let (Some(minutes), Some(cost)) = (
            spread(|one| one.minutes.get())?,
            spread(|one| one.cost.get())?,
        ) else {
            return Ok(None);
        };
        Ok(Some(Self {
            minutes,
            cost,
            rated_tenths: rated_tenths(ratings),
        }))
    }

    /// Orders by what a tenth of a rating point costs, the dearest first, so that effort which pays least is seen; what
    /// nobody rated comes last, the dearest of it first.
    #[must_use]
    pub fn pays_less(&self, other: &Self) -> std::cmp::Ordering {
        let product = |a: i64, b: i64| i128::from(a).saturating_mul(i128::from(b));
        let longest = other.minutes.median.cmp(&self.minutes.median);
        let dearest = other.cost.median.cmp(&self.cost.median).then(longest);
        match (self.rated_tenths, other.rated_tenths) {
            (Some(own), Some(theirs)) => product(other.cost.median, own)
                .cmp(&product(self.cost.median, theirs))
                .then(dearest),
            (Some(_), None) => std::cmp::Ordering::Less,
            (None, Some(_)) => std::cmp::Ordering::Greater,
            (None, None) => dearest,
        }
    }
}
