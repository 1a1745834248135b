//! `a × b / c` in `i128`, with the rounding in the name.

use super::QuantityError;

/// Limit text for results that leave `i64`.
const LIMIT: &str = "9 223 372 036 854 775 807 of the smallest unit";

fn product(a: i64, b: i64, c: i64) -> Result<(i128, i128), QuantityError> {
    if c == 0 {
        return Err(QuantityError::Overflow { limit: LIMIT });
    }
    let product = i128::from(a)
        .checked_mul(i128::from(b))
        .ok_or(QuantityError::Overflow { limit: LIMIT })?;
    Ok((product, i128::from(c)))
}

/// Narrows a wide result, or reports that it does not fit.
///
/// # Errors
/// [`QuantityError::Overflow`] outside `i64`.
pub fn narrow(wide: i128) -> Result<i64, QuantityError> {
    i64::try_from(wide).map_err(|_| QuantityError::Overflow { limit: LIMIT })
}

/// `a × b / c`, rounded towards minus infinity.
///
/// # Errors
/// [`QuantityError::Overflow`] when `c` is zero or the result leaves `i64`.
pub fn mul_div_floor(a: i64, b: i64, c: i64) -> Result<i64, QuantityError> {
    let (p, c) = product(a, b, c)?;
    narrow(div_floor(p, c))
}

/// `a × b / c`, rounded towards plus infinity.
///
/// # Errors
/// [`QuantityError::Overflow`] when `c` is zero or the result leaves `i64`.
pub fn mul_div_ceil(a: i64, b: i64, c: i64) -> Result<i64, QuantityError> {
    let (p, c) = product(a, b, c)?;
    narrow(div_ceil(p, c))
}

/// `a × b / c`, to the nearest whole, halves away from zero.
///
/// # Errors
/// [`QuantityError::Overflow`] when `c` is zero or the result leaves `i64`.
pub fn mul_div_nearest(a: i64, b: i64, c: i64) -> Result<i64, QuantityError> {
    let (p, c) = product(a, b, c)?;
    narrow(div_nearest(p, c))
}

/// `a / b` towards minus infinity; `b` must not be zero.
#[expect(
    clippy::arithmetic_side_effects,
    reason = "operands are products of two i64, far inside i128; b is not 0"
)]
#[must_use]
pub fn div_floor(a: i128, b: i128) -> i128 {
    let q = a / b;
    if a % b != 0 && (a < 0) != (b < 0) {
        q - 1
    } else {
        q
    }
}

/// `a / b` towards plus infinity; `b` must not be zero.
#[expect(
    clippy::arithmetic_side_effects,
    reason = "operands are products of two i64, far inside i128; b is not 0"
)]
#[must_use]
pub fn div_ceil(a: i128, b: i128) -> i128 {
    -div_floor(-a, b)
}

/// `a / b` to the nearest whole, halves away from zero; `b` must not be zero.
#[expect(
    clippy::arithmetic_side_effects,
    reason = "operands are products of two i64, far inside i128; b is not 0"
)]
#[must_use]
pub fn div_nearest(a: i128, b: i128) -> i128 {
    let sign = if (a < 0) == (b < 0) { 1 } else { -1 };
    let (a, b) = (a.abs(), b.abs());
    sign * ((2 * a + b) / (2 * b))
}
