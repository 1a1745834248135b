//! `today`, `yesterday` and `tomorrow`, and days with slashes, where a flag takes a day; days in files.

use chrono::{DateTime, Days, Local, NaiveDate, Utc};
use ellwand_contract::typed::{date, date_with_slashes};
use ellwand_domain::setting::DateOrder;
use std::ffi::OsString;

/// Flags that take a day.
const FLAGS: [&str; 8] = [
    "--date",
    "--delivery",
    "--due",
    "--from",
    "--to",
    "--until",
    "--valid-until",
    "--on",
];

/// A command line with the days that are meant, as this machine's clock has them: what is repeated later means the same day.
pub fn written_out(
    args: impl IntoIterator<Item = OsString>,
    now: Option<DateTime<Utc>>,
) -> Vec<OsString> {
    let today = now.map(|now| now.with_timezone(&Local).date_naive());
    replaced(args, |word| day(word, today))
}

/// A command line with the days that have slashes, in the workshop's order.
pub fn in_order(args: &[OsString], order: DateOrder) -> Vec<OsString> {
    replaced(args.iter().cloned(), |word| date_with_slashes(word, order))
}

/// True for a command line that could have a day with slashes, in one order or the other.
pub fn have_slashes(args: &[OsString]) -> bool {
    DateOrder::ALL
        .iter()
        .any(|order| in_order(args, *order) != args)
}

/// Days are replaced where a flag takes one, and where a closing names one.
fn replaced(
    args: impl IntoIterator<Item = OsString>,
    read: impl Fn(&str) -> Option<NaiveDate>,
) -> Vec<OsString> {
    let mut written: Vec<OsString> = Vec::new();
    for arg in args {
        let after = |words: &[&str]| {
            let last = written.len().checked_sub(words.len());
            let last = last.and_then(|at| written.get(at..)).unwrap_or_default();
            !last.is_empty() && last.iter().zip(words).all(|(typed, word)| *typed == **word)
        };
        let takes_day = FLAGS.iter().any(|flag| after(&[flag])) || after(&["workshop", "close"]);
        let text = arg.to_str().unwrap_or_default();
        let day = match text.split_once('=') {
            Some((flag, word)) if FLAGS.contains(&flag) => {
                read(word).map(|day| format!("{flag}={day}"))
            }
            _ if takes_day => read(text).map(|day| day.to_string()),
            _ => None,
        };
        written.push(day.map_or(arg, OsString::from));
    }
    written
}

fn day(word: &str, today: Option<NaiveDate>) -> Option<NaiveDate> {
    let one = Days::new(1);
    match word.trim().to_lowercase().as_str() {
        "today" => today,
        "yesterday" => today?.checked_sub_days(one),
        "tomorrow" => today?.checked_add_days(one),
        _ => None,
    }
}

/// Keys of a file that take a day.
const KEYS: [&str; 4] = ["date", "due", "until", "valid_until"];

/// The text of a TOML file with its days year first, as the requests have them, and what is wrong with the others, which are left
/// out, each with its line, from 1.
///
/// `yesterday` is no day of a file: it would be another one tomorrow.
pub fn in_file(text: &str) -> (String, Vec<(usize, String)>) {
    let (mut lines, mut slips) = (Vec::new(), Vec::new());
    for (at, line) in text.split('\n').enumerate() {
        let typed = quoted(line).filter(|(key, _)| KEYS.contains(key));
        lines.push(match typed.map(|(_, typed)| (typed, date(typed))) {
            None => line.to_owned(),
            Some((typed, Ok(day))) => line.replacen(typed, &day.to_string(), 1),
            Some((_, Err(slip))) => {
                slips.push((at.saturating_add(1), slip));
                String::new()
            }
        });
    }
    (lines.join("\n"), slips)
}

/// `due = "3.10.2026"` → `due`, `3.10.2026`.
fn quoted(line: &str) -> Option<(&str, &str)> {
    let (key, value) = line.split_once('=')?;
    let inner = value.trim_start().strip_prefix('"')?;
    let (typed, _) = inner.split_once('"')?;
    Some((key.trim(), typed))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_of_a_file_are_read_with_dots() {
        let read =
            in_file("due = \"3.10.2026\" # late\nname = \"3.10.2026\"\ndate=\"2026-10-04\"\n");
        let with_days = "due = \"2026-10-03\" # late\nname = \"3.10.2026\"\ndate=\"2026-10-04\"\n";
        assert_eq!(read, (with_days.to_owned(), Vec::new()));
        let (left, slips) = in_file("\ndue = \"3/10/2026\"\nname = \"x\"");
        assert_eq!(left, "\n\nname = \"x\"");
        let [(2, slip)] = slips.as_slice() else {
            panic!("{slips:?}");
        };
        assert!(slip.contains("3 October or 10 March"), "{slip}");
    }

    #[test]
    fn slashes_are_read_in_the_chosen_order() {
        let line = |words: &[&str]| -> Vec<OsString> { words.iter().map(OsString::from).collect() };
        for (typed, order, meant) in [
            ("--date=3/10/2026", DateOrder::DayFirst, "--date=2026-10-03"),
            (
                "--date=3/10/2026",
                DateOrder::MonthFirst,
                "--date=2026-03-10",
            ),
            (
                "--date=28/11/2026",
                DateOrder::MonthFirst,
                "--date=28/11/2026",
            ),
            ("--note=3/10/2026", DateOrder::DayFirst, "--note=3/10/2026"),
        ] {
            let read = in_order(&line(&["work", typed]), order);
            assert_eq!(read, line(&["work", meant]), "{typed} {order}");
        }
        let close = line(&["workshop", "close", "3/10/2026"]);
        assert!(have_slashes(&close));
        assert!(!have_slashes(&line(&["close", "3/10/2026"])));
    }

    #[test]
    fn a_day_is_written_out_only_where_a_flag_takes_one() {
        let now = "2026-03-01T12:00:00Z".parse().ok();
        let line = |text: &str| -> Vec<String> {
            let words = text.split(' ').map(OsString::from);
            let written = written_out(words, now).into_iter();
            written.filter_map(|word| word.into_string().ok()).collect()
        };
        for (typed, meant) in [
            (
                "cut G1 shell --date yesterday",
                "cut G1 shell --date 2026-02-28",
            ),
            (
                "cut G1 shell --date=Today",
                "cut G1 shell --date=2026-03-01",
            ),
            ("plan coat --due tomorrow", "plan coat --due 2026-03-02"),
            (
                "plan yesterday --note yesterday",
                "plan yesterday --note yesterday",
            ),
            (
                "cut G1 shell --date 2026-02-01",
                "cut G1 shell --date 2026-02-01",
            ),
        ] {
            assert_eq!(line(typed).join(" "), meant);
        }
    }
}
