//! What a need takes, before it is known how the cloth shrinks.

use crate::quantity::{Micrometres, QuantityError};

/// About the length before a preparation that leaves `washed`: as if 10 % of it were lost, which few cloths exceed in one wash
/// (common practice). It decides nothing; it says where to look first.
///
/// - Formula: `washed × 10 / 9`, from `washed = raw × (1 − 1/10)`.
/// - Rounding: down to a micrometre.
///
/// # Errors
/// [`QuantityError::TooLarge`] beyond the longest length.
pub fn likely_raw(washed: Micrometres) -> Result<Micrometres, QuantityError> {
    Micrometres::new(washed.get().saturating_mul(10) / 9)
}
