//! Needles.

use crate::quantity::{Micrometres, QuantityError, exact};

/// Blade of a needle of the metric size `nm`: hundredths of a millimetre, exactly.
///
/// Source: a needle maker's page; the system was fixed in 1942.
///
/// ```
/// use ellwand_domain::trim::needle_blade;
/// assert_eq!(needle_blade(110).unwrap().get(), 1_100);
/// ```
///
/// # Errors
/// [`QuantityError`] beyond the longest length or below nothing.
pub fn needle_blade(nm: i64) -> Result<Micrometres, QuantityError> {
    Micrometres::new(exact::mul_div_floor(nm, 10, 1)?)
}
