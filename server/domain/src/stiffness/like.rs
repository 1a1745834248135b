//! When one cloth is about as stiff as another.

use crate::quantity::exact;

/// Rigidities that pass for like another: those whose bending length at the same mass is within a tenth of its own,
/// 0.9³ = 0.729 to 1.1³ = 1.331 times. Ours: a hand does not tell less (common practice).
///
/// Rounding: outwards, to whole nanonewton metres.
///
/// ```
/// assert_eq!(ellwand_domain::stiffness::like_nnm(10_000), (7_290, 13_310));
/// ```
#[must_use]
pub fn like_nnm(rigidity_nnm: i64) -> (i64, i64) {
    let least = exact::mul_div_floor(rigidity_nnm, 729, 1_000).unwrap_or(0);
    (
        least,
        exact::mul_div_ceil(rigidity_nnm, 1_331, 1_000).unwrap_or(i64::MAX),
    )
}
