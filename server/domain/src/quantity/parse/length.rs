//! Lengths: metres, yards, feet, inches, lignes and their sums.

use super::{Fraction, Reader};
use crate::quantity::{Micrometres, QuantityError};
use std::str::FromStr;

const LENGTH: Reader = Reader {
    expected: "a length",
    example: "2.5m or 2 3/4 yd",
    unit: "m",
    limit: "10 000 km",
};

/// Micrometres in a unit. 1 yd = 0.9144 m, 1 in = 25.4 mm by definition; 40 ligne = 1 in (sizes.com).
fn size(unit: &str) -> Option<(i128, i128)> {
    let um = match unit.to_lowercase().as_str() {
        "km" => 1_000_000_000,
        "m" | "metre" | "metres" | "meter" | "meters" => 1_000_000,
        "dm" => 100_000,
        "cm" => 10_000,
        "mm" => 1_000,
        // Micro sign and Greek mu look alike.
        "um" | "\u{b5}m" | "\u{3bc}m" => 1,
        "yd" | "yds" | "yard" | "yards" => 914_400,
        "ft" | "foot" | "feet" | "'" | "′" | "’" => 304_800,
        "in" | "inch" | "inches" | "\"" | "″" | "”" | "''" => 25_400,
        "l" | "ligne" | "lignes" => 635,
        _ => return None,
    };
    Some((um, 1))
}

fn parse_length(
    text: &str,
    round: impl Fn(Fraction) -> Option<i64>,
) -> Result<Micrometres, QuantityError> {
    let um = round(LENGTH.sum(text, size)?).filter(|um| *um <= Micrometres::MAX.get());
    Micrometres::new(um.ok_or_else(|| LENGTH.too_large(text))?)
}

/// Reads a length that is needed: a fraction finer than a micrometre rounds up. Zero is read; callers decide.
///
/// ```
/// use ellwand_domain::quantity::parse::{parse_length_down, parse_length_up};
/// // A third of a yard is 304 800 µm; a seventh of a metre is 142 857.142… µm.
/// assert_eq!(parse_length_up("1/3 yd").unwrap().get(), 304_800);
/// assert_eq!(parse_length_up("1/7 m").unwrap().get(), 142_858);
/// assert_eq!(parse_length_down("1/7 m").unwrap().get(), 142_857);
/// ```
///
/// # Errors
/// [`QuantityError::MissingUnit`], [`QuantityError::Negative`], [`QuantityError::Unreadable`] and
/// [`QuantityError::TooLarge`], each with the typed text.
pub fn parse_length_up(text: &str) -> Result<Micrometres, QuantityError> {
    parse_length(text, Fraction::ceil)
}

/// Reads a length that is there: a fraction finer than a micrometre rounds down. Zero is read; callers decide.
///
/// # Errors
/// As [`parse_length_up`].
pub fn parse_length_down(text: &str) -> Result<Micrometres, QuantityError> {
    parse_length(text, Fraction::floor)
}

impl FromStr for Micrometres {
    type Err = QuantityError;

    /// [`parse_length_up`]: needs round up.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        parse_length_up(text)
    }
}
