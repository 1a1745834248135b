//! The unit that a file is drawn in.

use std::str::FromStr;

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    Inch,
}

impl Unit {
    /// Millimetres in it.
    pub(crate) const fn mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Cm => 10.0,
            Self::Inch => 25.4,
        }
    }
}

/// A word that is no unit.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{0}\" is no unit of a drawing; use mm, cm or in")]
pub struct UnitError(String);

impl FromStr for Unit {
    type Err = UnitError;
    fn from_str(text: &str) -> Result<Self, UnitError> {
        match text.trim() {
            "mm" => Ok(Self::Mm),
            "cm" => Ok(Self::Cm),
            "in" => Ok(Self::Inch),
            other => Err(UnitError(other.to_owned())),
        }
    }
}
