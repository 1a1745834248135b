//! How a stiffness was found, and what a printed rigidity is worth in physical units.

use super::reading::{ASTM_JOULES, GRAM_FORCE, ISO_CENTIMETRES};
use crate::{quantity::fraction::Fraction, setting::StiffnessMethod};

impl StiffnessMethod {
    /// The formula behind it, for people.
    #[must_use]
    pub const fn formula(self) -> &'static str {
        match self {
            Self::HalfOverhang => "cantilever: bending length = overhang / 2, rigidity = w·g0·c³",
            Self::BendingLength => "rigidity = w·g0·c³ from a bending length",
            Self::Rigidity => "a rigidity as printed, taken as w·g0·c³",
            Self::Iso9073 => "ISO 9073-7 with g0 rounded to 10, put right by 0.981",
            Self::AstmD1388 => "ASTM D1388 with its SI constant 1.421e-5, put right by 0.690",
            Self::Kes => "pure bending (KES), gf·cm²/cm as 98.07 µN·m",
        }
    }

    /// True for what is typed as a length.
    #[must_use]
    pub const fn is_length(self) -> bool {
        matches!(self, Self::HalfOverhang | Self::BendingLength)
    }

    /// The formula that goes with the unit of a printed rigidity (letters alone, small).
    pub(super) fn of_unit(unit: &str) -> Self {
        if ASTM_JOULES.contains(&unit) {
            return Self::AstmD1388;
        }
        match unit {
            ISO_CENTIMETRES => Self::Iso9073,
            GRAM_FORCE => Self::Kes,
            _ => Self::Rigidity,
        }
    }

    /// Physical over printed rigidity.
    ///
    /// - ISO 9073-7 (from memory) prints w·c³·10⁻³ mN·cm, which is g0 rounded to 10.
    /// - ASTM D1388 (from memory) prints 1.421·10⁻⁵·w·c³ where physics has 9.80665·10⁻⁶: 1.449 times too much, which
    ///   agrees with the errors found on a known film (Lammens et al., Text. Res. J. 84(12) 2014, abstract).
    pub(super) fn physical(self, printed: Fraction) -> Option<Fraction> {
        match self {
            Self::Iso9073 => printed.times(980_665, 1_000_000),
            Self::AstmD1388 => printed.times(980_665, 1_421_000),
            Self::HalfOverhang | Self::BendingLength | Self::Rigidity | Self::Kes => Some(printed),
        }
    }
}
