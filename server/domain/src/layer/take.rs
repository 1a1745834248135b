//! Taking from layers.

use super::{Layer, LayerError, Method, Taken};
use crate::quantity::{Millionths, QuantityError, exact};

/// Cost of taking `quantity` from one layer: `value × quantity / layer quantity`, to the nearest millionth, once; the
/// taking that empties the layer takes whatever value is left.
pub(super) fn part(layer: &Layer, quantity: i64) -> Result<Taken, QuantityError> {
    let value = if quantity == layer.quantity {
        layer.value
    } else {
        layer.value.share(quantity, layer.quantity)?
    };
    Ok(Taken {
        layer: layer.id,
        quantity,
        value,
    })
}

/// Takes `quantity` from the layers of a material, oldest sequence first, and returns their cost.
///
/// - Units: micrometres or pieces; value in millionths.
/// - Rounding: once per layer touched, to nearest; the taking that empties a layer takes the rest.
/// - Shape: one entry per layer touched, in the order taken. The layers may come in any order; they are not changed (see
///   [`draw_down`]).
///
/// # Errors
/// [`LayerError::NotPositive`], [`LayerError::NotOnePool`] for a moving average over several layers,
/// [`LayerError::Overdraw`].
pub fn take(layers: &[Layer], method: Method, quantity: i64) -> Result<Vec<Taken>, LayerError> {
    if quantity <= 0 {
        return Err(LayerError::NotPositive { quantity });
    }
    let mut open: Vec<&Layer> = layers.iter().filter(|layer| layer.quantity > 0).collect();
    if method == Method::MovingAverage && open.len() > 1 {
        return Err(LayerError::NotOnePool { layers: open.len() });
    }
    open.sort_by_key(|layer| (layer.sequence, layer.id));
    let available: i128 = open.iter().map(|layer| i128::from(layer.quantity)).sum();
    if i128::from(quantity) > available {
        return Err(LayerError::Overdraw {
            wanted: quantity,
            available: exact::narrow(available)?,
        });
    }
    let mut taken = Vec::new();
    let mut left = quantity;
    for layer in open {
        let here = left.min(layer.quantity);
        taken.push(part(layer, here)?);
        left = left.saturating_sub(here);
        if left == 0 {
            break;
        }
    }
    Ok(taken)
}

/// Takes `quantity` for a garment that insists on a lot: from that lot's own layer as far as it reaches, the rest from the
/// others in their order. What was used of other lots may have been charged to this layer before, so that it can hold less than
/// the reel in hand. Under the moving average, and without a layer of its own, as [`take`]. Units and rounding as [`take`].
///
/// # Errors
/// As [`take`].
pub fn take_own_first(
    layers: &[Layer],
    method: Method,
    own: Option<i64>,
    quantity: i64,
) -> Result<Vec<Taken>, LayerError> {
    let own = own.and_then(|own| layers.iter().find(|layer| layer.id == own));
    let own = own.filter(|own| method == Method::Fifo && own.quantity > 0 && quantity > 0);
    let Some(own) = own else {
        return take(layers, method, quantity);
    };
    let here = quantity.min(own.quantity);
    let mut taken = vec![part(own, here)?];
    let left = quantity.saturating_sub(here);
    if left > 0 {
        let others: Vec<Layer> = layers
            .iter()
            .copied()
            .filter(|layer| layer.id != own.id)
            .collect();
        let rest = take(&others, method, left).map_err(|error| match error {
            LayerError::Overdraw { available, .. } => LayerError::Overdraw {
                wanted: quantity,
                available: available.saturating_add(here),
            },
            other => other,
        })?;
        taken.extend(rest);
    }
    Ok(taken)
}

/// What a find of `quantity` too little takes out of the layers: quantity without value, which is then spread over what is
/// left (normal loss); the layer that it empties loses its value with it, for nothing is left to carry it.
///
/// The layers and their order are those of [`take_own_first`]: thread that was never on a reel was never in its lot.
///
/// # Errors
/// As [`take`].
pub fn lose(
    layers: &[Layer],
    method: Method,
    own: Option<i64>,
    quantity: i64,
) -> Result<Vec<Taken>, LayerError> {
    let mut lost = take_own_first(layers, method, own, quantity)?;
    for part in &mut lost {
        let emptied = layers
            .iter()
            .find(|layer| layer.id == part.layer && layer.quantity == part.quantity);
        part.value = emptied.map_or(Millionths::ZERO, |layer| layer.value);
    }
    Ok(lost)
}

/// The layers after a taking, in the order given; emptied layers stay, with nothing in them.
///
/// # Errors
/// [`LayerError::UnknownLayer`], [`LayerError::Overdraw`] when a layer does not hold what was taken.
pub fn draw_down(layers: &[Layer], taken: &[Taken]) -> Result<Vec<Layer>, LayerError> {
    let mut layers = layers.to_vec();
    for Taken {
        layer,
        quantity,
        value,
    } in taken
    {
        let found = layers.iter_mut().find(|candidate| candidate.id == *layer);
        let found = found.ok_or(LayerError::UnknownLayer { layer: *layer })?;
        if *quantity > found.quantity {
            return Err(LayerError::Overdraw {
                wanted: *quantity,
                available: found.quantity,
            });
        }
        found.quantity = found.quantity.saturating_sub(*quantity);
        found.value = found.value.minus(*value)?;
    }
    Ok(layers)
}
