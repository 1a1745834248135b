//! What an hour of a person costs: for all their work, or for one kind of it, from a day on.

use crate::{quantity::HourlyRate, setting::WorkKind};
use chrono::NaiveDate;

/// The day from which a rate counts that holds from the beginning: the first of the calendar.
pub const BEGINNING: NaiveDate = match NaiveDate::from_ymd_opt(1, 1, 1) {
    Some(day) => day,
    None => NaiveDate::MIN,
};

/// A pay rate of one person.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PayRate {
    /// The kind of work it is for; `None` for all of it.
    pub kind: Option<WorkKind>,
    /// True for wages.
    pub paid: bool,
    /// Per hour, in the workshop's currency.
    pub per_hour: HourlyRate,
    /// The first day on which it counts.
    pub from: NaiveDate,
}

impl PayRate {
    /// The rate that counts for a kind of work on a day, out of all rates of one person.
    ///
    /// - Those from a later day do not count yet.
    /// - One for this kind of work goes before one for all work, however old it is (common practice: the narrower
    ///   agreement holds).
    /// - Of several, the latest counts; one person has one rate a kind and day.
    /// - It is for wages where it says so, or where the one for all work does on that day, whichever was set first.
    #[must_use]
    pub fn counting(rates: &[Self], kind: WorkKind, day: NaiveDate) -> Option<Self> {
        let begun = || rates.iter().filter(|rate| rate.from <= day);
        let fitting = begun().filter(|rate| rate.kind.is_none_or(|own| own == kind));
        let rate = fitting.max_by_key(|rate| (rate.kind.is_some(), rate.from))?;
        let general = begun()
            .filter(|rate| rate.kind.is_none())
            .max_by_key(|rate| rate.from);
        Some(Self {
            paid: rate.paid || general.is_some_and(|rate| rate.paid),
            ..*rate
        })
    }
}
