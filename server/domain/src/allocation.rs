//! Splitting an amount so that the parts add up to it.
//!
//! The method is the largest remainder (Hamilton): every part gets the whole units of its quota, and the units still
//! missing go, one each, to the largest fractions; of equal fractions the first wins. Source: OpenStax, Contemporary
//! Mathematics, 11.4. A part never strays from its quota by a whole unit.

use crate::quantity::{Millionths, exact};
use std::cmp::Reverse;

/// Why an amount could not be split.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum AllocationError {
    /// No weights, or only zeros: there is nothing to share by.
    #[error(
        "an amount cannot be shared by weights that are all zero; share it by count or equally"
    )]
    NoWeight,
    /// A weight below zero.
    #[error("weight {position} is negative; weights are zero or more")]
    NegativeWeight {
        /// Which weight, counted from 1.
        position: usize,
    },
    /// More digits than a millionth has.
    #[error("{digits} digits after the point were requested; stock value has 6")]
    TooManyDigits {
        /// Digits requested.
        digits: u32,
    },
    /// The amounts leave the range of whole numbers.
    #[error("the amount or its weights are too large to split exactly")]
    Overflow,
}

/// Gives `spare` units, one each, to the largest rests, the first of equals first.
pub(crate) fn hand_out(
    parts: &mut [i128],
    rests: &[i128],
    spare: i128,
) -> Result<(), AllocationError> {
    let spare = usize::try_from(spare).map_err(|_| AllocationError::Overflow)?;
    let mut order: Vec<(&i128, &mut i128)> = rests.iter().zip(parts).collect();
    order.sort_by_key(|(rest, _)| Reverse(**rest));
    for (_, part) in order.into_iter().take(spare) {
        *part = part.saturating_add(1);
    }
    Ok(())
}

fn sum(values: &[i128]) -> Result<i128, AllocationError> {
    values
        .iter()
        .try_fold(0_i128, |sum, value| sum.checked_add(*value))
        .ok_or(AllocationError::Overflow)
}

/// `parts`, or their opposites, as `i64`.
fn signed(parts: Vec<i128>, negative: bool) -> Result<Vec<i64>, AllocationError> {
    let sign = if negative { -1 } else { 1 };
    parts
        .into_iter()
        .map(|part| narrow(part.saturating_mul(sign)))
        .collect()
}

fn narrow(wide: i128) -> Result<i64, AllocationError> {
    i64::try_from(wide).map_err(|_| AllocationError::Overflow)
}

/// Splits `total` in proportion to `weights`; the parts add up to `total` exactly.
///
/// - Units: `total` and the parts in any one smallest unit; weights in any one unit.
/// - Rounding: largest remainder, ties to the first. A negative total is split as its opposite and negated.
/// - Shape: one part per weight, in order; a zero weight gets nothing.
///
/// ```
/// use ellwand_domain::allocation::largest_remainder;
/// assert_eq!(largest_remainder(100, &[1, 1, 1]), Ok(vec![34, 33, 33]));
/// ```
///
/// # Errors
/// [`AllocationError::NoWeight`] when no weight is above zero (the caller falls back to another key),
/// [`AllocationError::NegativeWeight`], [`AllocationError::Overflow`].
pub fn largest_remainder(total: i64, weights: &[i64]) -> Result<Vec<i64>, AllocationError> {
    let wide: Vec<i128> = weights.iter().copied().map(i128::from).collect();
    largest_remainder_wide(total, &wide)
}

/// [`largest_remainder`] for weights such as areas in µm², which may leave `i64`.
///
/// # Errors
/// As [`largest_remainder`].
pub fn largest_remainder_wide(total: i64, weights: &[i128]) -> Result<Vec<i64>, AllocationError> {
    if let Some(index) = weights.iter().position(|weight| *weight < 0) {
        return Err(AllocationError::NegativeWeight {
            position: index.saturating_add(1),
        });
    }
    let whole = sum(weights)?;
    if whole == 0 {
        return Err(AllocationError::NoWeight);
    }
    let amount = i128::from(total.unsigned_abs());
    let mut parts = Vec::with_capacity(weights.len());
    let mut rests = Vec::with_capacity(weights.len());
    for weight in weights {
        let product = amount
            .checked_mul(*weight)
            .ok_or(AllocationError::Overflow)?;
        parts.push(
            product
                .checked_div_euclid(whole)
                .ok_or(AllocationError::Overflow)?,
        );
        rests.push(
            product
                .checked_rem_euclid(whole)
                .ok_or(AllocationError::Overflow)?,
        );
    }
    let spare = amount.saturating_sub(sum(&parts)?);
    hand_out(&mut parts, &rests, spare)?;
    signed(parts, total < 0)
}

/// Rounds lines that are printed under their total: `(lines, total)` in minor units, adding up exactly.
///
/// - Units: `exact` in millionths; the answer in units of `digits` digits after the point.
/// - Rounding: the total half up (halves away from zero); the lines by largest remainder, ties to the first. A line that
///   needs no rounding keeps its value. Negative lines may be among them; a negative total is handled as its opposite.
///
/// ```
/// use ellwand_domain::{allocation::round_to_total, quantity::Millionths};
/// let lines = [85_943_684, 13_222_105, 26_444_211].map(|n| Millionths::new(n).expect("in range"));
/// assert_eq!(round_to_total(&lines, 2), Ok((vec![85_94, 13_22, 26_45], 125_61)));
/// ```
///
/// # Errors
/// [`AllocationError::TooManyDigits`] above 6 digits, [`AllocationError::Overflow`] when the total leaves `i64`.
pub fn round_to_total(
    exact: &[Millionths],
    digits: u32,
) -> Result<(Vec<i64>, i64), AllocationError> {
    let unit = minor_unit(digits)?;
    let values: Vec<i128> = exact.iter().map(|value| i128::from(value.get())).collect();
    let whole = sum(&values)?;
    let negative = whole < 0;
    let sign = if negative { -1 } else { 1 };
    let total = exact::div_nearest(whole.saturating_mul(sign), unit);
    let mut parts = Vec::with_capacity(values.len());
    let mut rests = Vec::with_capacity(values.len());
    for value in values {
        let value = value.saturating_mul(sign);
        parts.push(exact::div_floor(value, unit));
        rests.push(
            value
                .checked_rem_euclid(unit)
                .ok_or(AllocationError::Overflow)?,
        );
    }
    let spare = total.saturating_sub(sum(&parts)?);
    hand_out(&mut parts, &rests, spare)?;
    Ok((
        signed(parts, negative)?,
        narrow(total.saturating_mul(sign))?,
    ))
}

/// Rounds parts of a sum so that all but one read alike whatever that one is: the sum half up, every part half up alone, the one
/// at `rest` takes what is left.
///
/// - Units: `parts` in millionths; the answer in units of `digits` digits after the point.
/// - Rounding: the rest strays from its exact value by half a unit for each part and half a one for the sum at most. Where it
///   would fall below zero, all are rounded by [`round_to_total`].
///
/// # Errors
/// Those of [`round_to_total`].
pub fn round_with_rest<const N: usize>(
    parts: &[Millionths; N],
    rest: usize,
    digits: u32,
) -> Result<[i64; N], AllocationError> {
    let (by_remainder, total) = round_to_total(parts, digits)?;
    let mut minor = [0_i64; N];
    let mut left = total;
    let others = parts
        .iter()
        .zip(&mut minor)
        .enumerate()
        .filter(|(at, _)| *at != rest);
    for (_, (part, minor)) in others {
        *minor = round_alone(*part, digits)?;
        left = left.checked_sub(*minor).ok_or(AllocationError::Overflow)?;
    }
    if left < 0 {
        // Halves went up on both sides of nothing.
        minor
            .iter_mut()
            .zip(by_remainder)
            .for_each(|(minor, part)| *minor = part);
    } else if let Some(minor) = minor.get_mut(rest) {
        *minor = left;
    }
    Ok(minor)
}

/// [`round_to_total`] beside lines that are printed already: those keep what is printed of them, and what is left of the total
/// goes to the others, so that one thing reads alike in two sums.
///
/// - Units: `exact` in millionths; `printed` and the answer in units of `digits` digits after the point.
/// - Shape: `printed` has one for each line; where all are printed or none is, as [`round_to_total`].
/// - Rounding: the others by largest remainder of what is left; they stray further the more lines are kept. Where one would
///   fall below zero, as [`round_to_total`].
///
/// ```
/// use ellwand_domain::{allocation::round_beside, quantity::Millionths};
/// let lines = [3_336_000, 27_256_667].map(|n| Millionths::new(n).expect("in range"));
/// assert_eq!(round_beside(&lines, &[Some(3_34), None], 2), Ok((vec![3_34, 27_25], 30_59)));
/// ```
///
/// # Errors
/// Those of [`round_to_total`].
pub fn round_beside(
    exact: &[Millionths],
    printed: &[Option<i64>],
    digits: u32,
) -> Result<(Vec<i64>, i64), AllocationError> {
    let (mut lines, total) = round_to_total(exact, digits)?;
    let kept = |at: usize| printed.get(at).copied().flatten();
    let others: Vec<usize> = (0..lines.len()).filter(|at| kept(*at).is_none()).collect();
    if others.is_empty() || others.len() == lines.len() {
        return Ok((lines, total));
    }
    let unit = minor_unit(digits)?;
    let (mut parts, mut rests) = (
        Vec::with_capacity(others.len()),
        Vec::with_capacity(others.len()),
    );
    for at in &others {
        let value = exact.get(*at).map_or(0, |value| i128::from(value.get()));
        parts.push(exact::div_floor(value, unit));
        rests.push(
            value
                .checked_rem_euclid(unit)
                .ok_or(AllocationError::Overflow)?,
        );
    }
    let all: Vec<i128> = (0..lines.len()).filter_map(kept).map(i128::from).collect();
    let spare = i128::from(total)
        .saturating_sub(sum(&all)?)
        .saturating_sub(sum(&parts)?);
    let count = i128::try_from(others.len()).map_err(|_| AllocationError::Overflow)?;
    let each = spare
        .checked_div_euclid(count)
        .ok_or(AllocationError::Overflow)?;
    let over = spare
        .checked_rem_euclid(count)
        .ok_or(AllocationError::Overflow)?;
    parts
        .iter_mut()
        .for_each(|part| *part = part.saturating_add(each));
    hand_out(&mut parts, &rests, over)?;
    let below = |(at, part): (&usize, &i128)| {
        *part < 0 && exact.get(*at).is_some_and(|value| value.get() >= 0)
    };
    if others.iter().zip(&parts).any(below) {
        // What differs is less than what rounding left.
        return Ok((lines, total));
    }
    for (at, line) in lines.iter_mut().enumerate() {
        if let Some(kept) = kept(at) {
            *line = kept;
        }
    }
    for (at, part) in others.into_iter().zip(parts) {
        if let Some(line) = lines.get_mut(at) {
            *line = narrow(part)?;
        }
    }
    Ok((lines, total))
}

/// One value alone in minor units of `digits` digits, half up (halves away from zero).
///
/// # Errors
/// [`AllocationError::TooManyDigits`] above 6 digits.
pub fn round_alone(value: Millionths, digits: u32) -> Result<i64, AllocationError> {
    narrow(exact::div_nearest(
        i128::from(value.get()),
        minor_unit(digits)?,
    ))
}

/// Millionths in one minor unit: 10 000 for 2 digits.
pub(crate) fn minor_unit(digits: u32) -> Result<i128, AllocationError> {
    let places = 6_u32
        .checked_sub(digits)
        .ok_or(AllocationError::TooManyDigits { digits })?;
    10_i128.checked_pow(places).ok_or(AllocationError::Overflow)
}

/// Splits a stock value over pieces by their areas (or any other weights); exact to the millionth.
///
/// - Units: millionths; weights in µm² for areas, µm for lengths.
/// - Rounding: largest remainder, ties to the first.
///
/// # Errors
/// As [`largest_remainder`].
pub fn split_value(
    value: Millionths,
    weights: &[i128],
) -> Result<Vec<Millionths>, AllocationError> {
    let parts = largest_remainder_wide(value.get(), weights)?;
    parts
        .into_iter()
        .map(|part| Millionths::new(part).map_err(|_| AllocationError::Overflow))
        .collect()
}
