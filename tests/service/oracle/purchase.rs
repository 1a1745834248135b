//! Landed cost: a line's price and its share of the charges, in minor units.

use super::acts::{Key, Line};
use super::fraction::{Fraction, split, whole};

/// Shares a charge over the lines, exactly, by largest remainder. Without any weight by that key, the quantity
/// counts, then equal shares.
pub fn share(lines: &[Line], key: Key, amount: i128) -> Vec<i128> {
    let by_quantity: Vec<Fraction> = lines.iter().map(|line| whole(line.quantity)).collect();
    let by_value: Vec<Fraction> = lines.iter().map(|line| whole(line.price)).collect();
    let weighs = |weights: &[Fraction]| weights.iter().any(|weight| *weight != whole(0));
    match key {
        Key::Value if weighs(&by_value) => split(amount, &by_value),
        Key::Value | Key::Quantity => split(amount, &by_quantity),
    }
}

/// What each line cost with the charges that were on the invoice.
pub fn landed(lines: &[Line], charge: Option<(Key, i128)>) -> Vec<i128> {
    let shares = charge.map_or_else(
        || vec![0; lines.len()],
        |(key, amount)| share(lines, key, amount),
    );
    lines
        .iter()
        .zip(shares)
        .map(|(line, share)| line.price + share)
        .collect()
}
