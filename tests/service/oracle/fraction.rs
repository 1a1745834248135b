//! Exact fractions, and the two places where they become whole numbers.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive, Zero};

/// An exact fraction.
pub type Fraction = BigRational;

/// A whole number as a fraction.
pub fn whole(number: i128) -> Fraction {
    Fraction::from_integer(BigInt::from(number))
}

/// `numerator / denominator`; the denominator is never zero here.
pub fn ratio(numerator: i128, denominator: i128) -> Fraction {
    Fraction::new(BigInt::from(numerator), BigInt::from(denominator))
}

/// The nearest whole number, a half away from zero.
pub fn nearest(fraction: &Fraction) -> i128 {
    fraction
        .round()
        .to_integer()
        .to_i128()
        .expect("figures of a test fit i128")
}

/// The next whole number up.
pub fn up(fraction: &Fraction) -> i128 {
    fraction
        .ceil()
        .to_integer()
        .to_i128()
        .expect("figures of a test fit i128")
}

/// The next whole number down.
pub fn down(fraction: &Fraction) -> i128 {
    fraction
        .floor()
        .to_integer()
        .to_i128()
        .expect("figures of a test fit i128")
}

/// Splits `total` by `weights`: the floor of each quota, then one more to the largest remainders, the first of
/// equals first. A negative total is split as a positive one and negated. Without any weight: equal shares.
pub fn split(total: i128, weights: &[Fraction]) -> Vec<i128> {
    if total < 0 {
        return split(-total, weights)
            .into_iter()
            .map(|part| -part)
            .collect();
    }
    let sum: Fraction = weights.iter().sum();
    if sum.is_zero() {
        return split(total, &vec![whole(1); weights.len()]);
    }
    assert!(!sum.is_negative(), "weights are never negative");
    let quotas: Vec<Fraction> = weights
        .iter()
        .map(|weight| weight * whole(total) / &sum)
        .collect();
    let mut parts: Vec<i128> = quotas.iter().map(down).collect();
    let missing = total - parts.iter().sum::<i128>();
    let mut order: Vec<usize> = (0..weights.len()).collect();
    order.sort_by(|&a, &b| quotas[b].fract().cmp(&quotas[a].fract()).then(a.cmp(&b)));
    for &index in order
        .iter()
        .take(usize::try_from(missing).expect("less than one a part"))
    {
        parts[index] += 1;
    }
    parts
}
