//! Masses, and masses per area or per running length.

use super::{Reader, number};
use crate::quantity::{
    Micrometres, Milligrams, MilligramsPerM2, QuantityError, fraction::Fraction,
};
use std::str::FromStr;

const MASS: Reader = Reader {
    expected: "a mass",
    example: "25kg or 8 oz",
    unit: "g",
    limit: "100 t",
};
const PER_AREA: Reader = Reader {
    expected: "a mass per area (g/m2, oz/yd2 or momme)",
    example: "270gsm or 8oz/yd2",
    unit: "gsm",
    limit: "100 kg/m²",
};
const PER_LENGTH: Reader = Reader {
    expected: "a mass per area (a mass per running length counts only together with the full width)",
    example: "270gsm, or give the full width too",
    unit: "gsm",
    limit: "100 kg/m²",
};

/// Milligrams in a unit: 1 oz = 28.349523125 g, 1 lb = 453.59237 g by definition.
fn size(unit: &str) -> Option<(i128, i128)> {
    Some(match unit {
        // "Mg" would be a tonne.
        "mg" => (1, 1),
        "t" => (1_000_000_000, 1),
        _ => match unit.to_lowercase().as_str() {
            "kg" | "kilo" | "kilos" => (1_000_000, 1),
            "g" | "gram" | "grams" => (1_000, 1),
            "oz" | "ounce" | "ounces" => (28_349_523_125, 1_000_000),
            "lb" | "lbs" | "pound" | "pounds" => (45_359_237, 100),
            _ => return None,
        },
    })
}

impl FromStr for Milligrams {
    type Err = QuantityError;

    /// Reads a mass; a fraction finer than a milligram rounds down, for mass is what is there.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let mg = MASS
            .sum(text, size)?
            .floor()
            .filter(|mg| *mg <= Self::MAX.get());
        Self::new(mg.ok_or_else(|| MASS.too_large(text))?)
    }
}

/// What a unit counts: milligrams on an area of a square metre, or on a running metre.
enum Per {
    Area(i128, i128),
    Length(i128, i128),
}

fn per(unit: &str) -> Option<Per> {
    let unit: String = unit
        .chars()
        .filter(|c| !c.is_whitespace())
        .collect::<String>()
        .to_lowercase();
    let unit = unit.replace('²', "2").replace("^2", "2");
    Some(match unit.as_str() {
        "gsm" | "g/m2" | "g/sqm" => Per::Area(1_000, 1),
        "kg/m2" => Per::Area(1_000_000, 1),
        // 28 349.523125 mg on 0.9144² = 0.83612736 m².
        "oz/yd2" | "oz/sqyd" => Per::Area(2_834_952_312_500, 83_612_736),
        // 1 lb on 100 yd × 45 in = 104.51592 m² (the second definition of the momme in GNU units).
        "momme" | "mommes" => Per::Area(45_359_237_000, 10_451_592),
        "g/m" | "g/runningm" | "g/linearm" | "g/lm" => Per::Length(1_000, 1),
        // 28 349.523125 mg on 0.9144 m.
        "oz/yd" | "oz/linearyd" | "oz/runningyd" | "oz/lyd" => {
            Per::Length(283_495_231_250, 9_144_000)
        }
        _ => return None,
    })
}

/// Reads a mass per area; with the full width at hand also a mass per running length (`14oz/yd`, `350g/m`).
///
/// - Rounding: to the nearest milligram per square metre.
/// - A bare `14oz` is refused: in tailoring it often means per running yard, elsewhere per square yard.
///
/// # Errors
/// [`QuantityError::Unreadable`] for a mass per running length without a width, or with a width of zero; else as
/// every reader.
pub fn parse_mass_per_area(
    text: &str,
    full_width: Option<Micrometres>,
) -> Result<MilligramsPerM2, QuantityError> {
    let plain = number::plain(text);
    let (number, unit) = number::take(&plain).map_err(|fault| PER_AREA.fault(fault, text))?;
    if unit.trim().is_empty() {
        return Err(PER_AREA.missing_unit(text));
    }
    let value = match per(unit).ok_or_else(|| PER_AREA.unreadable(text))? {
        Per::Area(top, bottom) => number.value.times(top, bottom),
        Per::Length(top, bottom) => {
            let width = full_width
                .filter(|w| !w.is_zero())
                .ok_or_else(|| PER_LENGTH.unreadable(text))?;
            number
                .value
                .times(top, bottom)
                .and_then(|f| f.times(1_000_000, i128::from(width.get())))
        }
    };
    let mg = value
        .and_then(Fraction::nearest)
        .filter(|mg| *mg <= MilligramsPerM2::MAX.get());
    MilligramsPerM2::new(mg.ok_or_else(|| PER_AREA.too_large(text))?)
}

impl FromStr for MilligramsPerM2 {
    type Err = QuantityError;

    /// [`parse_mass_per_area`] without a width.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        parse_mass_per_area(text, None)
    }
}
