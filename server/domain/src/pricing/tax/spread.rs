//! A rounded total over what it was rounded from.

use crate::{
    allocation::hand_out,
    pricing::{PricingError, check::overflow},
    quantity::fraction::Fraction,
};

/// Sum of exact amounts.
pub(super) fn sum<'a>(
    exact: impl IntoIterator<Item = &'a Fraction>,
) -> Result<Fraction, PricingError> {
    let sum = exact
        .into_iter()
        .try_fold(Fraction::ZERO, |sum, amount| sum.plus(*amount));
    sum.ok_or_else(overflow)
}

/// Whole parts of `total`, each its exact amount rounded down or up; the largest rests are rounded up, the first of equals
/// first.
///
/// `total` is the sum of `exact` rounded to a whole number either way. Where that sum is negative, its opposite is spread.
pub(super) fn spread(total: i128, exact: &[Fraction]) -> Result<Vec<i128>, PricingError> {
    let sign: i128 = if sum(exact)?.numerator() < 0 { -1 } else { 1 };
    let mut parts = Vec::with_capacity(exact.len());
    let mut rests = Vec::with_capacity(exact.len());
    for amount in exact {
        let (floor, rest) = split(*amount, sign).ok_or_else(overflow)?;
        parts.push(floor);
        rests.push(rest);
    }
    let given = parts
        .iter()
        .try_fold(0_i128, |sum, part| sum.checked_add(*part))
        .ok_or_else(overflow)?;
    let spare = total
        .saturating_mul(sign)
        .checked_sub(given)
        .ok_or_else(overflow)?;
    hand_out(&mut parts, &rests, spare)?;
    Ok(parts
        .into_iter()
        .map(|part| part.saturating_mul(sign))
        .collect())
}

/// The whole number below `sign × amount`, and the rest above it in units fine enough to order any two rests.
///
/// The denominators of tax are at most 1 000 000 + 10⁹, so that two rests differ by almost 10⁻¹⁸ or not at all.
fn split(amount: Fraction, sign: i128) -> Option<(i128, i128)> {
    const UNITS: i128 = 9_000_000_000_000_000_000;
    let amount = amount.times(sign, 1)?;
    let floor = i128::from(amount.floor()?);
    let rest = amount.plus(Fraction::new(floor.checked_neg()?, 1)?)?;
    Some((floor, rest.times(UNITS, 1)?.floor().map(i128::from)?))
}
