//! Receiving into layers, and putting back what was taken.

use super::{Layer, LayerError, Method, Taken};
use crate::quantity::QuantityError;

const LIMIT: &str = "9 223 372 036 854 775 807 of the smallest unit";

fn add(
    layer: &mut Layer,
    quantity: i64,
    value: crate::quantity::Millionths,
) -> Result<(), LayerError> {
    let sum = layer
        .quantity
        .checked_add(quantity)
        .ok_or(QuantityError::Overflow { limit: LIMIT })?;
    layer.value = layer.value.plus(value)?;
    layer.quantity = sum;
    Ok(())
}

/// The layers after a receipt: a new layer for FIFO; for the moving average the pool grows (and keeps its identity), the
/// first receipt becoming the pool.
///
/// - Units: micrometres or pieces; value in millionths, 0 for a gift. Nothing is rounded.
///
/// # Errors
/// [`LayerError::NotPositive`], [`LayerError::NegativeValue`], [`LayerError::ExistingLayer`] for FIFO,
/// [`LayerError::NotOnePool`].
pub fn receive(layers: &[Layer], method: Method, receipt: Layer) -> Result<Vec<Layer>, LayerError> {
    if receipt.quantity <= 0 {
        return Err(LayerError::NotPositive {
            quantity: receipt.quantity,
        });
    }
    if receipt.value.get() < 0 {
        return Err(LayerError::NegativeValue);
    }
    let mut layers = layers.to_vec();
    match (method, layers.as_mut_slice()) {
        (Method::Fifo, existing) => {
            if existing.iter().any(|layer| layer.id == receipt.id) {
                return Err(LayerError::ExistingLayer { layer: receipt.id });
            }
            layers.push(receipt);
        }
        (Method::MovingAverage, []) => layers.push(receipt),
        (Method::MovingAverage, [pool]) => add(pool, receipt.quantity, receipt.value)?,
        (Method::MovingAverage, several) => {
            return Err(LayerError::NotOnePool {
                layers: several.len(),
            });
        }
    }
    Ok(layers)
}

/// The layers after an earlier taking is undone: the same quantities return to the same layers at the same costs, and
/// the layers keep their places in the order.
///
/// # Errors
/// [`LayerError::UnknownLayer`] when a layer is missing from `layers` (emptied layers must be among them),
/// [`LayerError::NotPositive`], overflow.
pub fn put_back(layers: &[Layer], taken: &[Taken]) -> Result<Vec<Layer>, LayerError> {
    let mut layers = layers.to_vec();
    for Taken {
        layer,
        quantity,
        value,
    } in taken
    {
        if *quantity <= 0 {
            return Err(LayerError::NotPositive {
                quantity: *quantity,
            });
        }
        let found = layers.iter_mut().find(|candidate| candidate.id == *layer);
        add(
            found.ok_or(LayerError::UnknownLayer { layer: *layer })?,
            *quantity,
            *value,
        )?;
    }
    Ok(layers)
}
