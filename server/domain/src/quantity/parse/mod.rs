//! Reads quantities as people type them.
//!
//! - Decimals with a point or a comma (`2.5m`, `2,5 m`), fractions (`2 3/4 yd`, `2-3/4yd`, `2½ yd`), thousands
//!   set apart by spaces. A lone point is always the decimal sign; a lone comma before exactly three digits
//!   (`1,234`) may mean either and is refused.
//! - A unit is always needed where the quantity has one; sums of units are read (`2 m 30 cm`).
//! - Each quantity is worked out exactly and rounded once, in the direction its reader names.

mod length;
mod mass;
pub(crate) mod number;
mod whole;

pub use length::{parse_length_down, parse_length_up};
pub use mass::parse_mass_per_area;

use super::{QuantityError, fraction::Fraction};
use number::{Fault, Number};

/// Errors of a reader.
pub(crate) struct Reader {
    /// With its article: "a length".
    pub(crate) expected: &'static str,
    pub(crate) example: &'static str,
    /// Put behind a bare number to show what is missing.
    pub(crate) unit: &'static str,
    pub(crate) limit: &'static str,
}

impl Reader {
    pub(crate) fn unreadable(&self, text: &str) -> QuantityError {
        QuantityError::Unreadable {
            text: text.to_owned(),
            expected: self.expected,
            example: self.example,
        }
    }

    pub(crate) fn missing_unit(&self, text: &str) -> QuantityError {
        let number = text.trim();
        // Only a number alone gives a sound example with the unit behind it.
        let alone = number
            .chars()
            .all(|c| c.is_ascii_digit() || ".,".contains(c));
        let example = if alone {
            format!("{number}{}", self.likely(number))
        } else {
            self.example.to_owned()
        };
        QuantityError::MissingUnit {
            text: text.to_owned(),
            example,
        }
    }

    /// The unit that was probably meant: nobody cuts 140 m or works 90 h at a time (common practice).
    fn likely(&self, number: &str) -> &'static str {
        let whole = number.split(['.', ',']).next().unwrap_or_default();
        let whole: u64 = whole.parse().unwrap_or(u64::MAX);
        match (self.unit, whole) {
            ("m", 13..=400) => "cm",
            ("m", 401..) => "mm",
            ("h", 17..) => "min",
            (unit, _) => unit,
        }
    }

    pub(crate) fn too_large(&self, text: &str) -> QuantityError {
        QuantityError::TooLarge {
            text: text.to_owned(),
            limit: self.limit,
        }
    }

    pub(crate) fn fault(&self, fault: Fault, text: &str) -> QuantityError {
        match fault {
            Fault::NotANumber => self.unreadable(text),
            Fault::Negative => QuantityError::Negative {
                text: text.to_owned(),
            },
            Fault::TooLong => self.too_large(text),
            Fault::Ambiguous => QuantityError::Unreadable {
                text: text.to_owned(),
                expected: "a number that reads in one way only (the comma may group thousands or mark decimals)",
                example: "1.234 or 1234",
            },
        }
    }

    /// Reads `number unit` pairs to the end of the text.
    pub(crate) fn terms(&self, text: &str) -> Result<Vec<(Number, String)>, QuantityError> {
        let plain = number::plain(text);
        let mut rest = plain.trim();
        let mut terms = Vec::new();
        while !rest.is_empty() {
            let (number, after) = number::take(rest).map_err(|fault| self.fault(fault, text))?;
            let (unit, after) = number::leading(after.trim_start(), |c| {
                c.is_alphabetic() || "\"'″′”’%".contains(c)
            });
            let dotted = after
                .strip_prefix('.')
                .filter(|next| !next.starts_with(|c: char| c.is_ascii_digit()));
            rest = if unit.is_empty() {
                after
            } else {
                dotted.unwrap_or(after)
            }
            .trim_start();
            terms.push((number, unit.to_owned()));
        }
        if terms.is_empty() {
            Err(self.unreadable(text))
        } else {
            Ok(terms)
        }
    }

    /// The exact sum of all terms in the smallest unit; `size` gives the size of a unit as a fraction.
    pub(crate) fn sum(
        &self,
        text: &str,
        size: impl Fn(&str) -> Option<(i128, i128)>,
    ) -> Result<Fraction, QuantityError> {
        let mut sum = Fraction::ZERO;
        for (number, unit) in self.terms(text)? {
            if unit.is_empty() {
                return Err(self.missing_unit(text));
            }
            let (numerator, denominator) = size(&unit).ok_or_else(|| self.unreadable(text))?;
            let term = number.value.times(numerator, denominator);
            sum = term
                .and_then(|term| sum.plus(term))
                .ok_or_else(|| self.too_large(text))?;
        }
        Ok(sum)
    }
}
