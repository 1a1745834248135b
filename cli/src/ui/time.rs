//! Time of work, and days.

use chrono::NaiveDate;
use ellwand_domain::{costing::BEGINNING, quantity::Minutes};

/// `2 h 30 min`, `-1 h`; the book's minutes are within the range of [`Minutes`].
#[must_use]
pub fn minutes(minutes: i64) -> String {
    let shown = |minutes: i64| {
        Minutes::new(minutes)
            .map_or_else(|_| format!("{minutes} min"), |minutes| minutes.to_string())
    };
    match minutes {
        ..0 => format!("-{}", shown(minutes.saturating_neg())),
        _ => shown(minutes),
    }
}

/// The day from which a rate counts.
#[must_use]
pub fn since(day: NaiveDate) -> String {
    if day == BEGINNING {
        "the beginning".to_owned()
    } else {
        day.to_string()
    }
}
