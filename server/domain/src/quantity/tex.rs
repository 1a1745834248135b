//! Fineness of thread and yarn, kept in thousandths of a tex.

use super::{
    Micrometres, Milligrams, QuantityError,
    fraction::Fraction,
    parse::{Reader, number},
    print,
};
use serde::{Deserialize, Serialize};
use std::{fmt, str::FromStr};

const LIMIT: &str = "1 000 000 tex";
const TEX: Reader = Reader {
    expected: "the count of a thread (a bare ticket number says metric or cotton)",
    example: "30tex, Nm 50/2, 300dtex or metric ticket 120",
    unit: "tex",
    limit: LIMIT,
};

/// The systems that thread is sold in. Direct systems weigh a length, indirect ones measure a mass.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum YarnCount {
    /// Grams on a kilometre.
    Tex,
    /// Tenths of a tex.
    Decitex,
    /// Grams on 9 km.
    Denier,
    /// Nm: metres in a gram, 1 000 / tex.
    Metric,
    /// Ne: hanks of 840 yd in a pound, 590.541 / tex.
    Cotton,
    /// Metres that weigh 3 g, 3 000 / tex.
    MetricTicket,
    /// Hanks of 840 yd that weigh 3 lb, 1 771.6 / tex.
    CottonTicket,
}

impl YarnCount {
    /// The factor between a count and milli-tex, and whether it divides (indirect) or multiplies.
    ///
    /// 840 yd = 0.768096 km and 1 lb = 453.59237 g, so tex × Ne = 453.59237 / 0.768096.
    const fn factor(self) -> (i128, i128, bool) {
        match self {
            Self::Tex => (1_000, 1, false),
            Self::Decitex => (100, 1, false),
            Self::Denier => (1_000, 9, false),
            Self::Metric => (1_000_000, 1, true),
            Self::Cotton => (453_592_370_000, 768_096, true),
            Self::MetricTicket => (3_000_000, 1, true),
            Self::CottonTicket => (1_360_777_110_000, 768_096, true),
        }
    }

    fn named(name: &str) -> Option<Self> {
        let name: String = name.chars().filter(|c| *c != ' ').collect::<String>().to_lowercase();
        Some(match name.as_str() {
            "tex" => Self::Tex,
            "dtex" | "decitex" => Self::Decitex,
            "den" | "denier" => Self::Denier,
            "nm" => Self::Metric,
            "ne" | "nec" => Self::Cotton,
            "metricticket" => Self::MetricTicket,
            "cottonticket" => Self::CottonTicket,
            _ => return None,
        })
    }
}

/// Fineness in whole thousandths of a tex (30 tex = 30 000), above zero, up to 1 000 000 tex.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "i64", into = "i64")]
pub struct MilliTex(i64);

impl MilliTex {
    /// The thickest the book holds.
    pub const MAX: Self = Self(1_000_000_000);

    /// Takes thousandths of a tex.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`] at 0 or below, [`QuantityError::TooLarge`] above [`Self::MAX`].
    pub fn new(milli_tex: i64) -> Result<Self, QuantityError> {
        let text = || format!("{} tex", print::decimal(milli_tex, 3, 0));
        if milli_tex <= 0 {
            return Err(QuantityError::NotPositive { text: text() });
        }
        if milli_tex > Self::MAX.0 {
            return Err(QuantityError::TooLarge { text: text(), limit: LIMIT });
        }
        Ok(Self(milli_tex))
    }

    /// Thousandths of a tex.
    #[must_use]
    pub const fn get(self) -> i64 {
        self.0
    }

    /// The count in another system, in thousandths of its unit, to the nearest: 20 tex is Ne 29.527, 29 527.
    #[must_use]
    pub fn thousandths_of(self, system: YarnCount) -> i64 {
        let (top, bottom, indirect) = system.factor();
        let own = Fraction::new(i128::from(self.0), 1);
        let count = match indirect {
            true => own.and_then(Fraction::inverse).and_then(|f| f.times(top, bottom)),
            false => own.and_then(|f| f.times(bottom, top)),
        };
        count.and_then(|f| f.times(1_000, 1)).and_then(Fraction::nearest).unwrap_or(i64::MAX)
    }

    /// The fineness of a weighed sample, to the nearest thousandth: 900 m that weigh 7.5 g are 75 denier.
    ///
    /// # Errors
    /// [`QuantityError::NotPositive`] when nothing was weighed or measured, [`QuantityError::TooLarge`].
    pub fn of_sample(mass: Milligrams, length: Micrometres) -> Result<Self, QuantityError> {
        if length.is_zero() {
            return Err(QuantityError::NotPositive { text: "0 m".to_owned() });
        }
        // mg on µm: 1 mg/m is 1 tex, so milli-tex = mg × 10⁹ / µm.
        let value = Fraction::new(i128::from(mass.get()), i128::from(length.get()));
        let milli = value.and_then(|f| f.times(1_000_000_000, 1)).and_then(Fraction::nearest);
        Self::new(milli.unwrap_or(i64::MAX))
    }

    /// The exact number of tex for the wire, up to 3 decimals: `30`, `23.622`.
    #[must_use]
    pub fn decimal_tex(self) -> String {
        print::decimal(self.0, 3, 0)
    }

    /// Reads [`Self::decimal_tex`]; at most 3 decimals.
    ///
    /// # Errors
    /// [`QuantityError::Unreadable`], [`QuantityError::TooManyDigits`], [`QuantityError::NotPositive`],
    /// [`QuantityError::TooLarge`].
    pub fn from_decimal_tex(text: &str) -> Result<Self, QuantityError> {
        Self::new(print::from_decimal(text, 3, "a count in tex", "30")?)
    }
}

impl FromStr for MilliTex {
    type Err = QuantityError;

    /// Reads `30tex`, `tex 30`, `300dtex`, `270den`, `Nm 50/2`, `Ne 40/2`, `metric ticket 120`, `cotton ticket 40`;
    /// to the nearest thousandth of a tex.
    ///
    /// `50/2` is two plies of 50: indirect counts divide by the plies. Direct systems multiply, so `30/2 tex` could
    /// mean either and is refused.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let plain = number::plain(text);
        let (before, rest) = number::leading(&plain, |c| c.is_alphabetic() || c == ' ');
        let (number, after) = number::take(rest).map_err(|fault| TEX.fault(fault, text))?;
        let system = match (before.trim(), after.trim()) {
            ("", "") => return Err(TEX.missing_unit(text)),
            (name, "") | ("", name) => YarnCount::named(name),
            _ => None,
        };
        let (top, bottom, indirect) = system.ok_or_else(|| TEX.unreadable(text))?.factor();
        if !indirect && plain.contains('/') {
            return Err(TEX.unreadable(text));
        }
        let count = if indirect { number.value.inverse() } else { Some(number.value) };
        // Only zero has no inverse.
        let count = count.ok_or_else(|| QuantityError::NotPositive { text: text.to_owned() })?;
        let milli = count.times(top, bottom).and_then(Fraction::nearest).filter(|m| *m <= Self::MAX.0);
        match milli {
            Some(0) => Err(QuantityError::NotPositive { text: text.to_owned() }),
            Some(milli) => Self::new(milli),
            None => Err(TEX.too_large(text)),
        }
    }
}

impl fmt::Display for MilliTex {
    /// `30 tex`, `23.622 tex`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} tex", self.decimal_tex()))
    }
}

impl TryFrom<i64> for MilliTex {
    type Error = QuantityError;
    fn try_from(milli_tex: i64) -> Result<Self, QuantityError> {
        Self::new(milli_tex)
    }
}

impl From<MilliTex> for i64 {
    fn from(fineness: MilliTex) -> Self {
        fineness.0
    }
}
