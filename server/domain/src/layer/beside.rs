//! What each piece of thread or trims is worth, though its value lies in layers.

use crate::quantity::{Millionths, QuantityError, exact};

/// What is left of a receipt, or of the pool: quantity in micrometres or pieces, value in millionths. On an earlier day either may be
/// below zero, for what was used is booked by its own day and its cost by the order of the bookings.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Left {
    /// Quantity.
    pub quantity: i64,
    /// Value.
    pub value: Millionths,
}

/// What each of these pieces is worth, all pieces of one material in the order of their lots: laid beside the layers in the same
/// order, a piece is worth what the layers beside it are. A lot of which nothing was used is worth what it cost.
///
/// - Rounding: each end of a piece to the nearest millionth, so that the pieces add up to the layers exactly; the last takes
///   what is left.
/// - Where a layer is below zero, or worth something without a quantity, all of them count as one.
///
/// # Errors
/// [`QuantityError::Overflow`] beyond the range of values.
pub fn worth_beside(layers: &[Left], pieces: &[i64]) -> Result<Vec<Millionths>, QuantityError> {
    let all = Left {
        quantity: exact::narrow(layers.iter().map(|left| i128::from(left.quantity)).sum())?,
        value: Millionths::sum(layers.iter().map(|left| left.value))?,
    };
    let is_sound = |left: &Left| match left.quantity {
        0 => left.value.is_zero(),
        quantity => quantity > 0 && left.value >= Millionths::ZERO,
    };
    let merged = [all];
    let layers = match layers.iter().all(is_sound) {
        true => layers,
        false => &merged,
    };
    let mut worth = Vec::with_capacity(pieces.len());
    let (mut end, mut before) = (0_i64, Millionths::ZERO);
    for (index, piece) in pieces.iter().enumerate() {
        end = end.saturating_add(*piece);
        let until = match index.saturating_add(1) == pieces.len() {
            true => all.value,
            false => up_to(layers, end)?,
        };
        worth.push(until.minus(before)?);
        before = until;
    }
    Ok(worth)
}

/// What the first `quantity` of the layers is worth.
fn up_to(layers: &[Left], quantity: i64) -> Result<Millionths, QuantityError> {
    let (mut left, mut worth) = (quantity, Millionths::ZERO);
    for layer in layers.iter().filter(|layer| layer.quantity > 0) {
        let here = left.min(layer.quantity);
        worth = worth.plus(layer.value.share(here, layer.quantity)?)?;
        left = left.saturating_sub(here);
    }
    Ok(worth)
}
