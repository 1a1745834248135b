//! Masses for people and for the wire.

use super::{Units, decimal, from_decimal};
use crate::quantity::{Milligrams, MilligramsPerM2, QuantityError, fraction::Fraction};

/// Milligrams in an ounce, as a fraction.
const OUNCE: (i128, i128) = (28_349_523_125, 1_000_000);

/// `mg` in units of `(top / bottom)` milligrams, to the nearest hundredth.
fn hundredths(mg: i64, (top, bottom): (i128, i128)) -> i64 {
    let value = Fraction::new(i128::from(mg), 1)
        .and_then(|f| f.times(bottom, top))
        .and_then(|f| f.times(100, 1));
    value.and_then(Fraction::nearest).unwrap_or(i64::MAX)
}

impl Milligrams {
    /// A mass for people: kilograms from 1 kg on, else grams; or ounces, pounds from 1 lb on; to the nearest of
    /// two decimals (three for kilograms).
    #[must_use]
    pub fn show(self, units: Units) -> String {
        let mg = self.get();
        match units {
            Units::Metric if mg >= 1_000_000 => {
                let grams = hundredths(mg, (100_000, 1));
                format!("{} kg", decimal(grams, 3, 0))
            }
            Units::Metric => format!("{} g", decimal(hundredths(mg, (1_000, 1)), 2, 0)),
            Units::Imperial if mg >= 453_593 => {
                format!("{} lb", decimal(hundredths(mg, (45_359_237, 100)), 2, 0))
            }
            Units::Imperial => format!("{} oz", decimal(hundredths(mg, OUNCE), 2, 0)),
        }
    }

    /// The exact number of grams for the wire, up to 3 decimals: `350`, `27432.5`.
    #[must_use]
    pub fn decimal_g(self) -> String {
        decimal(self.get(), 3, 0)
    }

    /// Reads [`Self::decimal_g`]; at most 3 decimals.
    ///
    /// # Errors
    /// [`QuantityError::Unreadable`], [`QuantityError::TooManyDigits`], [`QuantityError::Negative`],
    /// [`QuantityError::TooLarge`].
    pub fn from_decimal_g(text: &str) -> Result<Self, QuantityError> {
        Self::new(from_decimal(text, 3, "a mass in grams", "350")?)
    }
}

impl MilligramsPerM2 {
    /// A mass per area for people: `191.4 g/m²` to a tenth of a gram, or `5.65 oz/yd²` to a hundredth.
    #[must_use]
    pub fn show(self, units: Units) -> String {
        match units {
            Units::Metric => {
                let tenths = hundredths(self.get(), (10_000, 1));
                format!("{} g/m²", decimal(tenths, 1, 0))
            }
            // 1 oz/yd² = 28 349.523125 mg on 0.83612736 m².
            Units::Imperial => {
                let ounces = hundredths(self.get(), (2_834_952_312_500, 83_612_736));
                format!("{} oz/yd²", decimal(ounces, 2, 0))
            }
        }
    }
}
