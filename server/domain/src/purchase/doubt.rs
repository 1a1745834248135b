//! Whether a day's rate may be the wrong way round.

use rust_decimal::Decimal;

/// How many times more or less than the last one a rate may be without a question. Rates of a year differ by parts of this; one
/// that is the wrong way round differs by more, but for currencies that are worth almost the same (common practice).
const TIMES: i64 = 5;

/// Significant digits of a rate that was not typed.
const DIGITS: u32 = 6;

/// Why a rate needs confirmation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateDoubt {
    /// It is the first of its currency: nothing tells which way round it is.
    First,
    /// It is more than five times the last one, or less than a fifth of it.
    Far {
        /// The last one.
        last: Decimal,
    },
}

/// Why a rate above zero needs confirmation; `None` where it is near the last one of its currency.
///
/// ```
/// use ellwand_domain::purchase::{RateDoubt, rate_doubt};
/// // Pounds for one yen, and yen for one pound.
/// let [right, wrong] = ["0.00525", "190.50"].map(|rate| rate.parse().expect("a decimal"));
/// assert_eq!(rate_doubt(right, None), Some(RateDoubt::First));
/// assert_eq!(rate_doubt(wrong, Some(right)), Some(RateDoubt::Far { last: right }));
/// assert_eq!(rate_doubt(right, Some(right)), None);
/// ```
#[must_use]
pub fn rate_doubt(rate: Decimal, last: Option<Decimal>) -> Option<RateDoubt> {
    let Some(last) = last else {
        return Some(RateDoubt::First);
    };
    let is_beyond = |large: Decimal, small: Decimal| {
        small
            .checked_mul(Decimal::from(TIMES))
            .is_some_and(|limit| large > limit)
    };
    (is_beyond(rate, last) || is_beyond(last, rate)).then_some(RateDoubt::Far { last })
}

/// How much of one amount there is for one of another, to six significant digits; `None` for one of nothing.
#[must_use]
pub fn rate_of_amounts(amount: Decimal, for_amount: Decimal) -> Option<Decimal> {
    Some(
        amount
            .checked_div(for_amount)?
            .round_sf(DIGITS)?
            .normalize(),
    )
}
