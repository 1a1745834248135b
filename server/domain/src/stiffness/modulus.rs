//! Bending modulus: rigidity for the thickness that bends.

use crate::quantity::{Micrometres, QuantityError, fraction::Fraction};

/// Bending modulus q = 12·G/t³ in kilopascals, to the nearest (Peirce; from memory): what is left of the stiffness
/// when thickness is taken out of it.
///
/// # Errors
/// [`QuantityError::NotPositive`] without a thickness, [`QuantityError::Overflow`].
///
/// ```
/// use ellwand_domain::{quantity::Micrometres, stiffness::bending_modulus_kpa};
/// // 15.691 µN·m at 0.5 mm: 12 × 15.691e-6 / 1.25e-10 = 1 506 336 Pa.
/// assert_eq!(bending_modulus_kpa(15_691, Micrometres::new(500).unwrap()), Ok(1_506));
/// ```
pub fn bending_modulus_kpa(
    rigidity_nnm: i64,
    thickness: Micrometres,
) -> Result<i64, QuantityError> {
    if thickness.is_zero() {
        return Err(QuantityError::NotPositive {
            text: "thickness 0".to_owned(),
        });
    }
    // nN·m over µm³ are 10⁹ N/m²: a million kilopascals.
    let cube = i128::from(thickness.get()).saturating_pow(3);
    let value = Fraction::new(i128::from(rigidity_nnm), cube).and_then(|f| f.times(12_000_000, 1));
    value
        .and_then(Fraction::nearest)
        .ok_or(QuantityError::Overflow {
            limit: super::LIMIT,
        })
}
