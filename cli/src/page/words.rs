//! Dates and typed text on a sheet.

use chrono::NaiveDate;
use ellwand_contract::text::shown;

/// `12 October 2026`.
pub(super) fn date(date: NaiveDate) -> String {
    date.format("%-d %B %Y").to_string()
}

/// `18.4` in percent: `18.4 %`.
pub(super) fn percent(number: &str) -> String {
    format!("{number}\u{a0}%")
}

/// Typed text as a page may hold it: line breaks stay, a tab is a space, what is not seen is a mark.
pub(super) fn clean(text: &str) -> String {
    shown(
        &text
            .replace("\r\n", "\n")
            .replace('\r', "\n")
            .replace('\t', " "),
    )
    .trim()
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_written_with_the_name_of_their_month() {
        let day = |day| NaiveDate::from_ymd_opt(2026, 10, day).map(date);
        assert_eq!(
            [day(1).as_deref(), day(12).as_deref()],
            [Some("1 October 2026"), Some("12 October 2026")]
        );
    }

    #[test]
    fn typed_text_keeps_its_lines_and_loses_what_is_not_seen() {
        assert_eq!(
            clean(" half now\r\n\trest\u{202e} later "),
            "half now\n rest\u{fffd} later"
        );
    }
}
