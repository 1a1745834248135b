//! What of an agreed price is earned once it is known how many garments are good.

use super::{PricingError, check::not_negative};
use crate::quantity::Millionths;

/// What the good garments earn of a net price that was agreed for `quoted` of them: a spoiled one is not sold.
///
/// - Formula: net price × good ÷ quoted, and never more than was agreed.
/// - Rounding: to the nearest millionth.
/// - Source: derived; a price is for what is delivered.
///
/// # Errors
/// [`PricingError::Negative`], [`PricingError::NoGarments`], overflow.
pub fn earned_by_good(net: Millionths, good: i64, quoted: i64) -> Result<Millionths, PricingError> {
    let net = not_negative("the price", net)?;
    if quoted < 1 || good < 0 {
        return Err(PricingError::NoGarments {
            minutes: 0,
            garments: quoted,
        });
    }
    Ok(net.share(good.min(quoted), quoted)?)
}
