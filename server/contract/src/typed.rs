//! Reads what people type on the command line, so that a slip is found before anything is sent.

use crate::{
    Typed,
    garments::WidthInput,
    quotations::StageInput,
    sheets::{FibreInput, ShrinkageInput},
    stiffness::StripInput,
};
use chrono::NaiveDate;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{
        Count, Currency, HourlyRate, Micrometres, Milligrams, MilligramsPerM2, Minutes,
        PartsPerMillion, QuantityError, Rate, Tex,
    },
    stiffness::Reading,
    thread::{Density, Stitch},
    trim::TrimSize,
};
use std::{convert::Infallible, fmt::Display, str::FromStr};

/// Checks a text with the reader of `T` and keeps the text, for requests that carry it as typed.
///
/// # Errors
/// What the reader says.
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
        /// What its reader says.
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
/// What its reader says.
pub fn stitch(text: &str) -> Result<String, String> {
    let read = Stitch::parse(text).map_err(|error| error.to_string());
    read.map(|_| text.trim().to_owned())
}

/// Checks how many stitches there are in a centimetre.
///
/// # Errors
/// What its reader says.
pub fn per_cm(text: &str) -> Result<String, String> {
    let read = Density::parse_per_cm(text).map_err(|error| error.to_string());
    read.map(|_| text.trim().to_owned())
}

/// Reads a whole number of things.
///
/// # Errors
/// What its reader says.
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

/// Reads lengths by width: `90cm:3.90m / 140cm:2.60m`.
///
/// # Errors
/// A row that is no width and length.
pub fn widths(text: &str) -> Result<Vec<WidthInput>, String> {
    rows(text).into_iter().map(width).collect()
}

/// Rows between strokes; a stroke between two digits is that of a fraction.
fn rows(text: &str) -> Vec<&str> {
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let (mut rows, mut begin) = (Vec::new(), 0);
    for (at, _) in text.match_indices('/') {
        let (before, after) = (
            text[..at].chars().next_back(),
            text[at + 1..].chars().next(),
        );
        if !(digit(before) && digit(after)) {
            rows.push(&text[begin..at]);
            begin = at + 1;
        }
    }
    if !text.is_empty() {
        rows.push(&text[begin..]);
    }
    rows
}

fn width(text: &str) -> Result<WidthInput, String> {
    let text = text.trim();
    let (width, length) = text
        .split_once(':')
        .ok_or_else(|| format!("\"{text}\" is not width:length, for example 140cm:2.60m"))?;
    let read = |text: &str| {
        let typed = text.trim().parse::<Typed<Micrometres>>();
        typed.map_err(|error| error.to_string())
    };
    Ok(WidthInput {
        width: read(width)?,
        length: read(length)?,
    })
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

/// Yes, no, or as the book would have it, from a flag for each.
#[must_use]
pub fn chosen(yes: bool, no: bool) -> Option<bool> {
    (yes || no).then_some(yes)
}

/// Reads a stage of payment: `deposit=40% of gross`, `cloth=100% of materials by 2026-11-01`, `rest`.
///
/// # Errors
/// No name, an amount of nothing, a day that is none.
pub fn stage(text: &str) -> Result<StageInput, String> {
    let (name, amount) = match text.split_once('=') {
        Some((name, amount)) => (name.trim(), Some(amount.trim())),
        None => (text.trim(), None),
    };
    if name.is_empty() || amount.is_some_and(str::is_empty) {
        return Err(format!(
            "\"{text}\" is not a stage of payment, for example deposit=40% of gross; the last one has its name alone"
        ));
    }
    let (amount, due) = match amount.and_then(|amount| amount.rsplit_once(" by ")) {
        Some((amount, day)) => (Some(amount.trim()), Some(date(day)?)),
        None => (amount, None),
    };
    Ok(StageInput {
        name: name.to_owned(),
        amount: amount.map(str::to_owned),
        due,
    })
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

/// Reads the size of a strip: `200mmx25mm`.
///
/// # Errors
/// What is not two lengths.
pub fn strip(text: &str) -> Result<StripInput, String> {
    let (length, width) = by_times(text)
        .ok_or_else(|| format!("\"{text}\" is not length x width, for example 200mmx25mm"))?;
    let read = |side: &str| {
        side.parse()
            .map_err(|error: QuantityError| error.to_string())
    };
    Ok(StripInput {
        length: read(length)?,
        width: read(width)?,
    })
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
    PossibleValuesParser::new(["yes", "no"]).map(|word| word == "yes")
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

/// Reads `linen 55% + cotton 45%`; one fibre without a share is all of it.
///
/// # Errors
/// A part without a share.
pub fn fibres(text: &str) -> Result<Vec<FibreInput>, String> {
    let parts: Vec<&str> = text
        .split(['+', '/'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect();
    let one = parts.len() == 1;
    parts
        .into_iter()
        .map(|part| {
            let digit = part.find(|c: char| c.is_ascii_digit());
            let (fibre, share) = match digit {
                // `55% linen` and `linen 55%` are the same.
                Some(0) => match part.split_once('%') {
                    Some((share, fibre)) => (fibre.trim(), format!("{}%", share.trim())),
                    None => return Err(no_share(part)),
                },
                Some(place) => (part[..place].trim(), part[place..].trim().to_owned()),
                None if one => (part, "100%".to_owned()),
                None => return Err(no_share(part)),
            };
            if fibre.is_empty() || !share.ends_with('%') {
                return Err(no_share(part));
            }
            Ok(FibreInput {
                fibre: fibre.to_owned(),
                share,
            })
        })
        .collect()
}

fn no_share(part: &str) -> String {
    format!("\"{part}\" is not a fibre with its share, for example linen 55% + cotton 45%")
}

/// Reads `5%/2%`: lengthwise and crosswise, then what was done (`washed` unless said): `5%/2% steamed`.
///
/// # Errors
/// More than two directions, or no share at all.
pub fn shrinkage(text: &str) -> Result<ShrinkageInput, String> {
    let wrong = || format!("\"{text}\" is not a shrinkage, for example 5%/2% or 5%/2% steamed");
    let end = text
        .rfind('%')
        .map(|place| place.saturating_add(1))
        .ok_or_else(wrong)?;
    let (shares, preparation) = text.split_at(end);
    let mut parts = shares.split('/').map(|part| part.trim().to_owned());
    let length = parts
        .next()
        .filter(|part| !part.is_empty())
        .ok_or_else(wrong)?;
    let width = parts.next().filter(|part| !part.is_empty());
    if parts.next().is_some() {
        return Err(wrong());
    }
    let preparation =
        Some(preparation.trim().to_owned()).filter(|preparation| !preparation.is_empty());
    Ok(ShrinkageInput {
        length,
        width,
        preparation,
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

    fn shares(text: &str) -> Result<Vec<(String, String)>, String> {
        fibres(text).map(|list| list.into_iter().map(|f| (f.fibre, f.share)).collect())
    }

    #[test]
    fn fibres_are_read_with_the_share_before_or_behind() {
        let expected = vec![
            ("linen".to_owned(), "55%".to_owned()),
            ("cotton".to_owned(), "45%".to_owned()),
        ];
        assert_eq!(shares("linen 55% + cotton 45%"), Ok(expected.clone()));
        assert_eq!(
            shares("55 % linen/45% cotton").map(|list| list[1].clone()),
            Ok(expected[1].clone())
        );
        assert_eq!(
            shares("wool"),
            Ok(vec![("wool".to_owned(), "100%".to_owned())])
        );
    }

    #[test]
    fn a_fibre_without_its_share_is_refused() {
        assert!(
            shares("linen + cotton 45%")
                .expect_err("no share")
                .starts_with("\"linen\" is not a fibre")
        );
        assert!(shares("linen 55 + cotton 45").is_err());
    }

    #[test]
    fn shrinkage_is_read_lengthwise_first() {
        let read = shrinkage("5%/2% steamed").expect("both ways");
        assert_eq!(
            (
                read.length.as_str(),
                read.width.as_deref(),
                read.preparation.as_deref()
            ),
            ("5%", Some("2%"), Some("steamed"))
        );
        let read = shrinkage("4.5 %").expect("lengthwise");
        assert_eq!(
            (read.length.as_str(), read.width, read.preparation),
            ("4.5 %", None, None)
        );
        assert!(shrinkage("5").is_err());
        assert!(shrinkage("1%/2%/3%").is_err());
    }

    #[test]
    fn a_stage_has_a_name_and_mostly_an_amount_and_a_day() {
        let read = |text: &str| {
            let stage = stage(text).expect("a stage");
            (
                stage.name,
                stage.amount,
                stage.due.map(|due| due.to_string()),
            )
        };
        let some = |text: &str| Some(text.to_owned());
        assert_eq!(
            read("deposit=40% of gross"),
            ("deposit".to_owned(), some("40% of gross"), None)
        );
        assert_eq!(
            read("cloth = 50% of labour + 20.00 by 2026-11-01"),
            (
                "cloth".to_owned(),
                some("50% of labour + 20.00"),
                some("2026-11-01")
            )
        );
        assert_eq!(
            read("last fitting"),
            ("last fitting".to_owned(), None, None)
        );
        for text in [
            "",
            "=40% of gross",
            "deposit=",
            "deposit=40% of gross by May",
        ] {
            assert!(stage(text).is_err(), "{text}");
        }
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
