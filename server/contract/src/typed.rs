//! Reads what people type on the command line, so that a slip is found before anything is sent.

use chrono::{Datelike, NaiveDate};
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{
        Count, Currency, HourlyRate, Micrometres, Milligrams, MilligramsPerM2, Minutes,
        PartsPerMillion, Rate, Tex,
    },
    setting::DateOrder,
    stiffness::Reading,
    thread::{Density, Stitch},
    trim::TrimSize,
};
use std::{convert::Infallible, fmt::Display, str::FromStr};

/// Checks a text with the reader of `T` and keeps the text, for requests that carry it as typed.
///
/// # Errors
/// Errors of the reader.
pub fn checked<T: FromStr<Err: Display>>(text: &str) -> Result<String, String> {
    text.parse::<T>()
        .map(|_| text.trim().to_owned())
        .map_err(|error| error.to_string())
}

macro_rules! checks {
    ($($name:ident: $what:ty, $doc:literal;)*) => {
        $(#[doc = concat!("Checks ", $doc, " and keeps the text.")]
        ///
        /// # Errors
        /// Errors of its reader.
        pub fn $name(text: &str) -> Result<String, String> {
            checked::<$what>(text)
        })*
    };
}

checks! {
    length: Micrometres, "a length";
    mass: Milligrams, "a mass";
    mass_per_area: MilligramsPerM2, "a mass per area";
    share: PartsPerMillion, "a share";
    per_hour: HourlyRate, "an amount for an hour";
    time: Minutes, "a time";
    rate: Rate, "a rate of exchange";
    yarn_count: Tex, "a thread count";
    stiffness: Reading, "a bending length or a rigidity";
    trim_size: TrimSize, "the size of a trim";
}

/// Checks a stitch: a number of ISO 4915, a hand stitch, a counted item.
///
/// # Errors
/// Errors of its reader.
pub fn stitch(text: &str) -> Result<String, String> {
    let read = Stitch::parse(text).map_err(|error| error.to_string());
    read.map(|_| text.trim().to_owned())
}

/// Checks how many stitches there are in a centimetre.
///
/// # Errors
/// Errors of its reader.
pub fn per_cm(text: &str) -> Result<String, String> {
    let read = Density::parse_per_cm(text).map_err(|error| error.to_string());
    read.map(|_| text.trim().to_owned())
}

/// Reads a whole number of things.
///
/// # Errors
/// Errors of its reader.
pub fn count(text: &str) -> Result<i64, String> {
    let read = text.parse::<Count>().map_err(|error| error.to_string());
    read.map(Count::get)
}

/// A text without the spaces around it.
///
/// # Errors
/// None.
pub fn trimmed(text: &str) -> Result<String, Infallible> {
    Ok(text.trim().to_owned())
}

/// Reads a day: `2026-10-03`, or with dots day, month and year, `3.10.2026`. With slashes it could be either order
/// ([`date_with_slashes`]).
///
/// ```
/// use ellwand_contract::typed::date;
/// assert_eq!(date("3.10.2026"), date("2026-10-03"));
/// assert!(date("3/10/2026").unwrap_err().contains("is 3 October or 10 March"));
/// ```
///
/// # Errors
/// Anything else.
pub fn date(text: &str) -> Result<NaiveDate, String> {
    let typed = text.trim();
    let by_dots = || NaiveDate::parse_from_str(typed, "%d.%m.%Y").ok();
    let read = typed.parse().ok().or_else(by_dots);
    read.filter(has_whole_year).ok_or_else(|| {
        either_order(typed).unwrap_or_else(|| {
            format!("\"{typed}\" is not a date, for example 2026-10-03 or 3.10.2026")
        })
    })
}

/// Reads a day with slashes in the order that the workshop has chosen; none for any other text.
#[must_use]
pub fn date_with_slashes(text: &str, order: DateOrder) -> Option<NaiveDate> {
    let format = match order {
        DateOrder::DayFirst => "%d/%m/%Y",
        DateOrder::MonthFirst => "%m/%d/%Y",
    };
    let read = NaiveDate::parse_from_str(text.trim(), format).ok();
    read.filter(has_whole_year)
}

/// A year of two digits is a slip.
fn has_whole_year(day: &NaiveDate) -> bool {
    day.year() >= 1_000
}

/// What a date with slashes can mean, and how to say which.
fn either_order(typed: &str) -> Option<String> {
    let [day, month] =
        [DateOrder::DayFirst, DateOrder::MonthFirst].map(|order| date_with_slashes(typed, order));
    let choose = "or choose the order with ellwand workshop set --date-order day-first";
    match (day, month) {
        (Some(day), Some(month)) if day != month => Some(format!(
            "\"{typed}\" is {} or {}: type {day} or {month}, {choose}",
            day.format("%-d %B"),
            month.format("%-d %B")
        )),
        _ => {
            let only = day.or(month)?;
            let with_month = choose.replace("day-first", "month-first");
            let choose = if day.is_some() { choose } else { &with_month };
            Some(format!("\"{typed}\" has slashes: type {only}, {choose}"))
        }
    }
}

/// Checks a length, or a whole number of pieces.
///
/// # Errors
/// Errors of the reader of lengths: a number with decimals has no unit.
pub fn length_or_count(text: &str) -> Result<String, String> {
    checked::<Count>(text).or_else(|_| checked::<Micrometres>(text))
}

/// Checks a length or a mass.
///
/// # Errors
/// Errors of the reader of lengths.
pub fn length_or_mass(text: &str) -> Result<String, String> {
    checked::<Milligrams>(text).or_else(|_| checked::<Micrometres>(text))
}

/// Checks a length, a mass, or a whole number of pieces.
///
/// # Errors
/// Errors of the reader of lengths.
pub fn any_amount(text: &str) -> Result<String, String> {
    length_or_count(text).or_else(|_| length_or_mass(text))
}

/// Yes, no, or as the book would have it, from a flag for each.
#[must_use]
pub fn chosen(yes: bool, no: bool) -> Option<bool> {
    (yes || no).then_some(yes)
}

/// Reads strips set apart by commas, and the readings of one strip by colons; the text travels.
///
/// # Errors
/// A reading that is neither a length nor a rigidity, with an example.
pub fn strips(text: &str) -> Result<Vec<Vec<String>>, String> {
    let strip = |text: &str| text.split(':').map(stiffness).collect();
    let strips = text.split(',').filter(|_| !text.is_empty());
    strips.map(strip).collect()
}

/// Splits at a mark between two quantities, `50cmx50cm` → `50cm`, `50cm`.
#[must_use]
pub fn by_times(text: &str) -> Option<(&str, &str)> {
    let (length, width) = text.split_once(['x', 'X', '×'])?;
    Some((length.trim(), width.trim()))
}

/// Reads a code of ISO 4217, whatever its capitals.
///
/// # Errors
/// Another word.
pub fn currency(text: &str) -> Result<String, String> {
    checked::<Currency>(text).map(|code| code.to_uppercase())
}

/// Reads yes or no.
pub fn yes_or_no() -> impl TypedValueParser<Value = bool> {
    let words = [("yes", "true"), ("no", "false")];
    let words = words.map(|(word, json)| PossibleValue::new(word).alias(json));
    PossibleValuesParser::new(words).map(|word| word == "yes" || word == "true")
}

/// Reads the number of a wash test; `latest` is 0.
///
/// # Errors
/// What is neither.
pub fn wash_test(text: &str) -> Result<i64, String> {
    if text == "latest" {
        return Ok(0);
    }
    let number = text.parse().ok().filter(|number| *number > 0);
    number.ok_or_else(|| "give the number of a test, such as 1, or 'latest'".to_owned())
}

/// Reads how well a number is known.
///
/// # Errors
/// Another word than the four.
pub fn certainty(text: &str) -> Result<Certainty, String> {
    use Certainty::{Estimated, Measured, Stated, Unknown};
    let word = text.trim().to_lowercase();
    [Measured, Stated, Estimated, Unknown]
        .into_iter()
        .find(|certainty| certainty.as_str() == word)
        .ok_or_else(|| {
            format!(
                "\"{text}\" is not a certainty; it is one of measured, stated, estimated, unknown"
            )
        })
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
    fn what_is_not_said_is_left_to_the_rule() {
        let flags = [(true, false), (false, true), (false, false)];
        assert_eq!(
            flags.map(|(yes, no)| chosen(yes, no)),
            [Some(true), Some(false), None]
        );
    }

    #[test]
    fn a_date_is_written_year_first_or_with_dots() {
        let day = date("2026-10-03");
        assert!(day.is_ok());
        for text in ["3.10.2026", "03.10.2026", " 2026-10-03 "] {
            assert_eq!(date(text), day, "{text}");
        }
        for (text, part) in [
            (
                "3/10/2026",
                "is 3 October or 10 March: type 2026-10-03 or 2026-03-10, or",
            ),
            (
                "28/11/2026",
                "type 2026-11-28, or choose the order with ellwand workshop set --date-order day-first",
            ),
            (
                "11/28/2026",
                "ellwand workshop set --date-order month-first",
            ),
            // Either way the same day.
            ("3/3/2026", "type 2026-03-03, or"),
        ] {
            let error = date(text).expect_err("no date");
            assert!(error.contains(part), "{error}");
        }
        for text in ["3/10/26", "3.10.26", "31.2.2026", "3.10.", "2026"] {
            let error = date(text).expect_err("no date");
            assert_eq!(
                error,
                format!("\"{text}\" is not a date, for example 2026-10-03 or 3.10.2026")
            );
        }
    }

    #[test]
    fn a_swatch_is_two_lengths() {
        assert_eq!(by_times("50cm x 40cm"), Some(("50cm", "40cm")));
        assert_eq!(by_times("50cm"), None);
    }

    #[test]
    fn strips_and_their_sides_are_read() {
        let read = strips("62mm:60mm, 61 mm : 2 3/8in").expect("readings");
        assert_eq!(read, [["62mm", "60mm"], ["61 mm", "2 3/8in"]]);
        assert_eq!(strips("11.4uNm").expect("a rigidity"), [["11.4uNm"]]);
    }

    #[test]
    fn a_strip_that_cannot_be_read_is_said() {
        assert!(
            strips("62")
                .expect_err("units")
                .starts_with("\"62\" needs a unit")
        );
        assert!(strips("62mm,,60mm").is_err());
        assert!(
            strips("-62mm")
                .expect_err("negative")
                .ends_with("must not be negative")
        );
        assert!(
            strips("0mm")
                .expect_err("nothing")
                .ends_with("must be more than zero")
        );
    }
}
