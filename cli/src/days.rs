//! `today`, `yesterday` and `tomorrow`, where a flag takes a day.

use chrono::{DateTime, Days, Local, NaiveDate, Utc};
use std::ffi::OsString;

/// Flags that take a day.
const FLAGS: [&str; 7] = [
    "--date",
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
    let mut written: Vec<OsString> = Vec::new();
    for arg in args {
        let after_flag = written
            .last()
            .is_some_and(|flag| FLAGS.iter().any(|of| *flag == **of));
        let text = arg.to_str().unwrap_or_default();
        let day = match text.split_once('=') {
            Some((flag, word)) if FLAGS.contains(&flag) => {
                day(word, today).map(|day| format!("{flag}={day}"))
            }
            _ if after_flag => day(text, today).map(|day| day.to_string()),
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

#[cfg(test)]
mod tests {
    use super::*;

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
