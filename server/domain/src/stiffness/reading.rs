//! Stiffness as people type it, and rigidity on the wire.

use crate::{
    quantity::{
        Micrometres, QuantityError,
        fraction::Fraction,
        parse::{Reader, number},
        print,
    },
    setting::StiffnessMethod,
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

/// `mN·cm`, as ISO 9073-7 prints it.
pub(super) const ISO_CENTIMETRES: &str = "mncm";
/// `gf·cm²/cm`, as KES testers print it.
pub(super) const GRAM_FORCE: &str = "gfcmcm";
/// `µJ/m`, as ASTM D1388 prints it; micro sign and Greek mu look alike.
pub(super) const ASTM_JOULES: &[&str] = &["ujm", "\u{b5}jm", "\u{3bc}jm"];

/// Nanonewton metres in a unit of rigidity, as a fraction; the unit in letters alone, small.
fn size(unit: &str) -> Option<(i128, i128)> {
    match unit {
        "nnm" => Some((1, 1)),
        "unm" | "\u{b5}nm" | "\u{3bc}nm" => Some((1_000, 1)),
        "mnm" => Some((1_000_000, 1)),
        ISO_CENTIMETRES => Some((10_000, 1)),
        // 1 mg·cm = 98.0665 nN·m (BS 3356; from memory), 1 gf·cm²/cm = 98.0665 µN·m.
        "mgcm" => Some((980_665, 10_000)),
        GRAM_FORCE => Some((980_665, 10)),
        unit if ASTM_JOULES.contains(&unit) => Some((1_000, 1)),
        _ => None,
    }
}

/// Reads a stiffness with the formula that is behind it; without one, the formula that goes with the unit.
///
/// Rigidities come back in physical units: what a formula overstates is taken off, and rounded once to the nearest
/// nanonewton metre. A length is a bending length, or an overhang where the formula says so: it comes back as typed.
///
/// # Errors
/// [`QuantityError::MissingUnit`], [`QuantityError::Unreadable`], [`QuantityError::NotPositive`]; a length where the
/// formula is one for rigidities, and the other way round, is unreadable.
pub fn parse_printed(
    text: &str,
    formula: Option<StiffnessMethod>,
) -> Result<(Reading, StiffnessMethod), QuantityError> {
    let plain = number::plain(text);
    let (number, unit) = number::take(&plain).map_err(|fault| STIFFNESS.fault(fault, text))?;
    if unit.trim().is_empty() {
        return Err(STIFFNESS.missing_unit(text));
    }
    let letters: String = unit
        .chars()
        .filter(|c| c.is_alphabetic())
        .collect::<String>()
        .to_lowercase();
    let (reading, method) = match size(&letters) {
        Some((above, below)) => {
            let method = formula.unwrap_or_else(|| StiffnessMethod::of_unit(&letters));
            if method.is_length() {
                return Err(unreadable(
                    text,
                    "a length, which that formula starts from",
                    "20mm",
                ));
            }
            let printed: Option<Fraction> = number.value.times(above, below);
            let rigidity = printed.and_then(|value| method.physical(value)?.nearest());
            (
                Reading::Rigidity(rigidity.ok_or_else(|| STIFFNESS.too_large(text))?),
                method,
            )
        }
        None => {
            let length = match text.parse() {
                Ok(length) => length,
                Err(QuantityError::Unreadable { .. }) => return Err(STIFFNESS.unreadable(text)),
                Err(error) => return Err(error),
            };
            let method = formula.unwrap_or(StiffnessMethod::BendingLength);
            if !method.is_length() {
                return Err(unreadable(
                    text,
                    "a rigidity, which that formula gives",
                    "11.4uNm",
                ));
            }
            (Reading::BendingLength(length), method)
        }
    };
    match reading {
        Reading::Rigidity(0) | Reading::BendingLength(Micrometres::ZERO) => {
            Err(QuantityError::NotPositive {
                text: text.to_owned(),
            })
        }
        reading => Ok((reading, method)),
    }
}

fn unreadable(text: &str, expected: &'static str, example: &'static str) -> QuantityError {
    QuantityError::Unreadable {
        text: text.to_owned(),
        expected,
        example,
    }
}

impl FromStr for Reading {
    type Err = QuantityError;

    /// Reads `11.4uNm`, `160mgcm`, `0.1gfcm2/cm`, `22uJ/m`, or a bending length `20mm`; above zero. See
    /// [`parse_printed`].
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        parse_printed(text, None).map(|(reading, _)| reading)
    }
}

/// A length in millimetres without idle zeros: `20.5`.
#[must_use]
pub fn decimal_mm(length: Micrometres) -> String {
    print::decimal(length.get(), 3, 0)
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
