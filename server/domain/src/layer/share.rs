//! What of each receipt lies in a pool.
//!
//! Under the moving average receipts melt into one, but a charge that comes later belongs to one of them. Each receipt's value
//! leaves the pool in the proportion in which goods leave it, so that its share of what is there, and of each taking, is known:
//! a charge is spread by these shares, as one larger invoice would have been from the start.
//!
//! - A receipt brings its whole in. A taking of `x` of `Q` carries off `x / Q` of every share that is there at that moment.
//! - Goods found or missing change no share: their value stays with what is left (normal loss). A loss that empties the pool
//!   takes the shares with the value.
//! - A receipt is taken back only while no taking of later stands, so that its share is whole again and goes with it.
//! - A taking that is taken back returns exactly what it carried off, as it returns its cost.
//!
//! So, for each receipt, the share in the pool and the shares carried off add up to [`WHOLE`]; and the shares in the pool, each
//! times the quantity of its receipt, to what is there, but for what was found or missing.

use super::LayerError;
use crate::quantity::{QuantityError, exact};

/// A whole receipt: shares are in billionths of it.
pub const WHOLE: i64 = 1_000_000_000;

/// What of a lot's receipt lies somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PoolShare {
    /// The lot.
    pub lot: i64,
    /// Billionths of its receipt, from 0 to [`WHOLE`].
    pub share: i64,
}

/// The shares that a taking of `quantity` carries off a pool that holds `available`.
///
/// - Units: micrometres or pieces; shares in billionths.
/// - Rounding: to the nearest billionth, each share by itself; the taking that empties the pool carries all of them off.
/// - Shape: one for each share that is moved, in the order given; none of nothing.
///
/// # Errors
/// [`LayerError::NotPositive`], [`LayerError::Overdraw`].
pub fn shares_taken(
    shares: &[PoolShare],
    quantity: i64,
    available: i64,
) -> Result<Vec<PoolShare>, LayerError> {
    if quantity <= 0 {
        return Err(LayerError::NotPositive { quantity });
    }
    if quantity > available {
        return Err(LayerError::Overdraw {
            wanted: quantity,
            available,
        });
    }
    let part = |share: &PoolShare| -> Result<PoolShare, QuantityError> {
        let taken = exact::mul_div_nearest(share.share, quantity, available)?;
        Ok(PoolShare {
            share: taken,
            ..*share
        })
    };
    let taken: Vec<PoolShare> = shares.iter().map(part).collect::<Result<_, _>>()?;
    Ok(taken.into_iter().filter(|share| share.share != 0).collect())
}
