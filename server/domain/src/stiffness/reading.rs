//! Stiffness as people type it, and rigidity on the wire.

use crate::quantity::{
    Micrometres, QuantityError,
    parse::{Reader, number},
    print,
};
use std::str::FromStr;

const STIFFNESS: Reader = Reader {
    expected: "a rigidity or a bending length",
    example: "11.4uNm or 20mm",
    unit: "uNm",
    limit: "9 223 372 036 854 775 807 nN·m",
};

/// A stiffness as it was found: a rigidity, or a bending length that becomes one with the mass per area.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reading {
    /// Nanonewton metres.
    Rigidity(i64),
    /// Bending length.
    BendingLength(Micrometres),
}

/// Nanonewton metres in a unit of rigidity.
fn size(unit: &str) -> Option<i128> {
    let unit: String = unit.chars().filter(|c| c.is_alphabetic()).collect::<String>().to_lowercase();
    match unit.as_str() {
        "nnm" => Some(1),
        // Micro sign and Greek mu look alike.
        "unm" | "\u{b5}nm" | "\u{3bc}nm" => Some(1_000),
        "mnm" => Some(1_000_000),
        _ => None,
    }
}

impl FromStr for Reading {
    type Err = QuantityError;

    /// Reads `11.4uNm`, `11.4 µN·m`, or a bending length `20mm`; to the nearest nanonewton metre; above zero.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        let (number, unit) = number::take(&plain).map_err(|fault| STIFFNESS.fault(fault, text))?;
        if unit.trim().is_empty() {
            return Err(STIFFNESS.missing_unit(text));
        }
        let reading = match size(unit) {
            Some(size) => {
                let rigidity = number.value.times(size, 1).and_then(|value| value.nearest());
                Self::Rigidity(rigidity.ok_or_else(|| STIFFNESS.too_large(text))?)
            }
            None => match text.parse() {
                Ok(length) => Self::BendingLength(length),
                Err(QuantityError::Unreadable { .. }) => return Err(STIFFNESS.unreadable(text)),
                Err(error) => return Err(error),
            },
        };
        match reading {
            Self::Rigidity(0) | Self::BendingLength(Micrometres::ZERO) => {
                Err(QuantityError::NotPositive { text: text.to_owned() })
            }
            reading => Ok(reading),
        }
    }
}

/// The exact rigidity in µN·m for the wire, up to 3 decimals: `11.438`.
#[must_use]
pub fn decimal_unm(rigidity_nnm: i64) -> String {
    print::decimal(rigidity_nnm, 3, 0)
}

/// Reads [`decimal_unm`]; nanonewton metres.
///
/// # Errors
/// [`QuantityError::Unreadable`], [`QuantityError::TooManyDigits`], [`QuantityError::TooLarge`].
pub fn from_decimal_unm(text: &str) -> Result<i64, QuantityError> {
    print::from_decimal(text, 3, "a rigidity in uNm", "11.4")
}
