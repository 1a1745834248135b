//! Reads what people type on the command line, so that a slip is found before anything is sent.

use chrono::NaiveDate;
use ellwand_domain::quantity::{Count, Micrometres, Milligrams};
use std::{fmt::Display, str::FromStr};

/// Checks a text with the reader of `T` and keeps the text, for requests that carry it as typed.
///
/// # Errors
/// What the reader says.
pub fn checked<T: FromStr<Err: Display>>(text: &str) -> Result<String, String> {
    text.parse::<T>()
        .map(|_| text.trim().to_owned())
        .map_err(|error| error.to_string())
}

/// Reads a day.
///
/// # Errors
/// Anything but `2026-10-03`.
pub fn date(text: &str) -> Result<NaiveDate, String> {
    text.trim()
        .parse()
        .map_err(|_| format!("\"{text}\" is not a date, for example 2026-10-03"))
}

/// Checks a length, or a whole number of pieces.
///
/// # Errors
/// What the reader of lengths says: a number with decimals has no unit.
pub fn length_or_count(text: &str) -> Result<String, String> {
    checked::<Count>(text).or_else(|_| checked::<Micrometres>(text))
}

/// Checks a length or a mass.
///
/// # Errors
/// What the reader of lengths says.
pub fn length_or_mass(text: &str) -> Result<String, String> {
    checked::<Milligrams>(text).or_else(|_| checked::<Micrometres>(text))
}

/// Checks a length, a mass, or a whole number of pieces.
///
/// # Errors
/// What the reader of lengths says.
pub fn any_amount(text: &str) -> Result<String, String> {
    length_or_count(text).or_else(|_| length_or_mass(text))
}

/// Splits at a mark between two quantities, `50cmx50cm` → `50cm`, `50cm`.
#[must_use]
pub fn by_times(text: &str) -> Option<(&str, &str)> {
    let (length, width) = text.split_once(['x', 'X', '×'])?;
    Some((length.trim(), width.trim()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_needs_its_unit_and_a_whole_number_may_be_a_count() {
        assert_eq!(
            checked::<Micrometres>("2.4").expect_err("no unit"),
            "\"2.4\" needs a unit, for example 2.4m"
        );
        assert_eq!(length_or_count("6"), Ok("6".to_owned()));
        assert_eq!(length_or_count(" 2 3/4 yd "), Ok("2 3/4 yd".to_owned()));
        assert!(length_or_count("2.4").is_err());
        assert_eq!(any_amount("1.240kg"), Ok("1.240kg".to_owned()));
        assert!(length_or_mass("6").is_err());
    }

    #[test]
    fn a_date_is_written_year_first() {
        assert!(date("2026-10-03").is_ok());
        assert_eq!(
            date("3.10.2026").expect_err("day first"),
            "\"3.10.2026\" is not a date, for example 2026-10-03"
        );
    }

    #[test]
    fn a_swatch_is_two_lengths() {
        assert_eq!(by_times("50cm x 40cm"), Some(("50cm", "40cm")));
        assert_eq!(by_times("50cm"), None);
    }
}
