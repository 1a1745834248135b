//! Sizes of machine needles.

use crate::quantity::{Micrometres, QuantityError, parse::Reader, parse::number};
use std::{fmt, str::FromStr};

/// A needle by its metric size Nm, the diameter of its blade in hundredths of a millimetre (fixed 1942, by a needle maker's
/// page). It has nothing to do with the Nm of yarn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NeedleSize {
    nm: i64,
}

/// A metric size with its US size, and whether the pair is from a printed source; else from memory.
type Pair = (i64, i64, bool);

/// Pairs of metric and US sizes. Blade and metric size: needle maker's page and apparelscience.com; pairs as printed at
/// askvity and ethelandi, those of 65, 75 and 130 from memory.
pub const NEEDLES: &[Pair] = &[
    (60, 8, true),
    (65, 9, false),
    (70, 10, true),
    (75, 11, false),
    (80, 12, true),
    (90, 14, true),
    (100, 16, true),
    (110, 18, true),
    (120, 19, true),
    (130, 21, false),
];

const NEEDLE: Reader = Reader {
    expected: "the size of a machine needle",
    example: "Nm 80 or 80/12",
    unit: "",
    limit: "Nm 30 to Nm 400",
};

const OUT_OF_RANGE: Reader = Reader {
    expected: "a metric needle size (Nm 30 to Nm 400); a US size has US in front or its metric size",
    example: "US 12 or 80/12",
    unit: "",
    limit: "",
};

impl NeedleSize {
    /// The metric size: Nm 80 is 80.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.nm
    }

    /// Diameter of the blade: Nm 110 is 1.10 mm.
    ///
    /// # Errors
    /// None for a size that was read.
    pub fn blade(self) -> Result<Micrometres, QuantityError> {
        Micrometres::new(self.nm.saturating_mul(10))
    }

    /// The US size, where one is known, and whether the pair is from a printed source.
    #[must_use]
    pub fn us(self) -> Option<(i64, bool)> {
        NEEDLES
            .iter()
            .find(|(nm, ..)| *nm == self.nm)
            .map(|(_, us, printed)| (*us, *printed))
    }
}

impl FromStr for NeedleSize {
    type Err = QuantityError;

    /// Reads `Nm 80`, `80`, `80/12` (both sizes, which must belong together) or `US 12`.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text).to_lowercase();
        let (name, rest) = number::leading(&plain, |c| c.is_alphabetic() || c == ' ');
        let whole = |text: &str| text.trim().parse::<i64>().ok();
        let size = match (name.trim(), rest.split_once('/')) {
            ("nm" | "", None) => whole(rest),
            ("us", None) => {
                let us = whole(rest);
                NEEDLES
                    .iter()
                    .find(|(_, known, _)| Some(*known) == us)
                    .map(|(nm, ..)| *nm)
            }
            ("nm" | "", Some((nm, us))) => {
                let pair = whole(nm).zip(whole(us));
                let known = |(nm, us): &(i64, i64)| {
                    NEEDLES.iter().any(|pair| (pair.0, pair.1) == (*nm, *us))
                };
                pair.filter(known).map(|(nm, _)| nm)
            }
            _ => None,
        };
        match size {
            Some(nm) if (30..=400).contains(&nm) => Ok(Self { nm }),
            Some(_) => Err(OUT_OF_RANGE.unreadable(text)),
            None => Err(NEEDLE.unreadable(text)),
        }
    }
}

impl fmt::Display for NeedleSize {
    /// `Nm 80`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("Nm {}", self.nm))
    }
}
