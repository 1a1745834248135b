//! What a measurement of a person can be.

use crate::quantity::Micrometres;

/// Shorter is a slip of the unit: 1 cm.
const LEAST: Micrometres = Micrometres::from_mm(10);
/// Longer is one, too: 3 m.
const MOST: Micrometres = Micrometres::from_mm(3_000);

/// True for a length that can be a measure of a person; every other is asked about.
///
/// - Source: common practice; a height is below 3 m, a wrist above 1 cm.
#[must_use]
pub fn is_plausible(length: Micrometres) -> bool {
    (LEAST..=MOST).contains(&length)
}
