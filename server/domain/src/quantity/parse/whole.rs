//! Counts and minutes.

use super::Reader;
use crate::quantity::{Count, Minutes, QuantityError, fraction::Fraction};
use std::str::FromStr;

const COUNT: Reader = Reader {
    expected: "a whole number of pieces",
    example: "6 or 6 pcs",
    unit: "",
    limit: "1 000 000 000",
};
const TIME: Reader = Reader {
    expected: "a time of work",
    example: "2h30 or 150min",
    unit: "h",
    limit: "10 000 000 min",
};

impl FromStr for Count {
    type Err = QuantityError;

    /// Reads `6`, `6 pcs` or `3 reels`; a part of a piece is refused.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let terms = COUNT.terms(text)?;
        let [(number, unit)] = terms.as_slice() else {
            return Err(COUNT.unreadable(text));
        };
        let known = matches!(
            unit.to_lowercase().as_str(),
            "" | "pc" | "pcs" | "piece" | "pieces" | "x" | "reel" | "reels"
        );
        if !known || !number.value.is_whole() {
            return Err(COUNT.unreadable(text));
        }
        let count = number.value.floor().filter(|n| *n <= Self::MAX.get());
        Self::new(count.ok_or_else(|| COUNT.too_large(text))?)
    }
}

fn hours(unit: &str) -> bool {
    matches!(
        unit.to_lowercase().as_str(),
        "h" | "hr" | "hrs" | "hour" | "hours"
    )
}

fn minutes(unit: &str) -> bool {
    matches!(
        unit.to_lowercase().as_str(),
        "m" | "min" | "mins" | "minute" | "minutes"
    )
}

impl FromStr for Minutes {
    type Err = QuantityError;

    /// Reads `2h30`, `2h 30min`, `150min`, `2.5h`; a part of a minute goes to the nearest, halves up.
    ///
    /// A number without a unit counts as minutes only right behind hours.
    fn from_str(text: &str) -> Result<Self, QuantityError> {
        let mut sum = Fraction::ZERO;
        let mut after_hours = false;
        for (number, unit) in TIME.terms(text)? {
            let size = match unit.as_str() {
                "" if after_hours => 1,
                "" => return Err(TIME.missing_unit(text)),
                unit if hours(unit) => 60,
                unit if minutes(unit) => 1,
                _ => return Err(TIME.unreadable(text)),
            };
            after_hours = size == 60;
            let term = number.value.times(size, 1);
            sum = term
                .and_then(|term| sum.plus(term))
                .ok_or_else(|| TIME.too_large(text))?;
        }
        let minutes = sum.nearest().filter(|n| *n <= Self::MAX.get());
        Self::new(minutes.ok_or_else(|| TIME.too_large(text))?)
    }
}
