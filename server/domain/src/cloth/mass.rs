//! Length, mass and width of cloth from one another.

use super::ClothError;
use crate::{
    quantity::{
        Micrometres, Milligrams, MilligramsPerM2, QuantityError, exact, fraction::Fraction,
    },
    shrinkage::Ratio,
};

/// Square micrometres in a square metre.
const UM2: i128 = 1_000_000_000_000;

fn overflow(limit: &'static str) -> QuantityError {
    QuantityError::Overflow { limit }
}

fn positive(um_or_mg: i64, what: &str) -> Result<i128, ClothError> {
    if um_or_mg > 0 {
        return Ok(i128::from(um_or_mg));
    }
    Err(QuantityError::NotPositive {
        text: what.to_owned(),
    }
    .into())
}

/// Length of a roll from its mass: net mass / (mass per area × full width), selvedges included.
///
/// - Rounding: down to a whole micrometre; an estimate all the same.
/// - Source: onlineclothingstudy.com 2019, 2021.
///
/// ```
/// use ellwand_domain::{cloth::length_by_mass, quantity::{Micrometres, Milligrams}};
/// // 25 kg net of 180 g/m², 1.50 m wide: 92.59 m.
/// let length = length_by_mass(
///     "25kg".parse::<Milligrams>().unwrap(), "180gsm".parse().unwrap(), Micrometres::from_mm(1_500),
/// );
/// assert_eq!(length.unwrap().get(), 92_592_592);
/// ```
///
/// # Errors
/// [`QuantityError::NotPositive`] without a mass per area or a width, [`QuantityError::TooLarge`].
pub fn length_by_mass(
    net: Milligrams,
    mass: MilligramsPerM2,
    full_width: Micrometres,
) -> Result<Micrometres, ClothError> {
    let (mass, width) = (
        positive(mass.get(), "mass per area 0")?,
        positive(full_width.get(), "full width 0")?,
    );
    let length = Fraction::new(
        i128::from(net.get()).saturating_mul(UM2),
        mass.saturating_mul(width),
    );
    let um = length
        .and_then(Fraction::floor)
        .ok_or_else(|| overflow("10 000 km"))?;
    Ok(Micrometres::new(um)?)
}

/// Mass of a rectangle of cloth: length × full width × mass per area, to the nearest milligram.
///
/// # Errors
/// [`QuantityError::TooLarge`] above 100 t.
pub fn mass_of(
    length: Micrometres,
    full_width: Micrometres,
    mass: MilligramsPerM2,
) -> Result<Milligrams, ClothError> {
    let area = i128::from(length.get()).checked_mul(i128::from(full_width.get()));
    let value = area
        .and_then(|area| Fraction::new(area, UM2))
        .and_then(|f| f.times(i128::from(mass.get()), 1));
    let mg = value
        .and_then(Fraction::nearest)
        .ok_or_else(|| overflow("100 t"))?;
    Ok(Milligrams::new(mg)?)
}

/// A piece that is as heavy per area as its lot, in millionths.
pub const NO_HEAVIER: i64 = 1_000_000;

/// How much heavier per area a piece is than its lot, in millionths, after its area went from one rectangle (length and
/// full width) to another and no fibre was lost; to the nearest, at least 1 and at most 1000 times.
///
/// ```
/// use ellwand_domain::{cloth::{NO_HEAVIER, heavier, mass_now}, quantity::Micrometres};
/// // 10 m × 150 cm shrink by 6 % and 3 %: 250 g/m² become 274.2 g/m².
/// let mm = Micrometres::from_mm;
/// let factor = heavier(NO_HEAVIER, (mm(10_000), mm(1_500)), (mm(9_400), mm(1_455)));
/// assert_eq!(mass_now("250gsm".parse().unwrap(), factor).unwrap().get(), 274_183);
/// ```
#[must_use]
pub fn heavier(
    factor: i64,
    before: (Micrometres, Micrometres),
    after: (Micrometres, Micrometres),
) -> i64 {
    let area = |(length, width): (Micrometres, Micrometres)| {
        i128::from(length.get()).saturating_mul(i128::from(width.get()))
    };
    let now = Fraction::new(area(before), area(after)).and_then(|f| f.times(i128::from(factor), 1));
    let ppm = now.and_then(Fraction::nearest);
    ppm.map_or(factor, |ppm| ppm.clamp(1, 1_000_000_000))
}

/// Mass per area of a piece that is `factor` millionths of its lot's, to the nearest milligram.
///
/// # Errors
/// [`QuantityError::TooLarge`] above 100 kg/m².
pub fn mass_now(mass: MilligramsPerM2, factor: i64) -> Result<MilligramsPerM2, QuantityError> {
    MilligramsPerM2::new(exact::mul_div_nearest(mass.get(), factor, NO_HEAVIER)?)
}

/// What is left of an area: (1 − s lengthwise)(1 − s crosswise).
#[must_use]
pub fn area_factor(length: Ratio, width: Ratio) -> Ratio {
    length.then(width)
}

/// Mass per area after the preparation, if no fibre is lost: before / area factor, to the nearest milligram.
///
/// # Errors
/// [`QuantityError::TooLarge`] above 100 kg/m².
pub fn after_shrinkage(
    mass: MilligramsPerM2,
    length: Ratio,
    width: Ratio,
) -> Result<MilligramsPerM2, ClothError> {
    let factor = area_factor(length, width);
    Ok(MilligramsPerM2::new(exact::mul_div_nearest(
        mass.get(),
        factor.before(),
        factor.after(),
    )?)?)
}
