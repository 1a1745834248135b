//! A period of the workshop's days, as the whole months in it and the days beside them.

use crate::costing::BEGINNING;
use chrono::{Datelike, NaiveDate};
use std::str::FromStr;

/// Days from the first to the last, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Period {
    /// First day.
    pub first: NaiveDate,
    /// Last day, never before the first.
    pub last: NaiveDate,
}

/// Why a text is no month.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("\"{text}\" is not a month; write its year and number, for example 2026-11")]
pub struct PeriodError {
    /// What was typed.
    pub text: String,
}

/// What a period is added up from.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Parts {
    /// First days of the first and the last of its whole months.
    pub months: Option<(NaiveDate, NaiveDate)>,
    /// What is left of it before and after them: fewer days than a month each.
    pub days: Vec<Period>,
}

fn first_of_month(day: NaiveDate) -> NaiveDate {
    day.with_day(1).unwrap_or(day)
}

/// The last day of a month; of the last month that there is, the day itself.
fn last_of_month(day: NaiveDate) -> NaiveDate {
    let next = first_of_month(day).checked_add_months(chrono::Months::new(1));
    next.and_then(|next| next.pred_opt()).unwrap_or(day)
}

impl Period {
    /// The month of a day.
    #[must_use]
    pub fn month_of(day: NaiveDate) -> Self {
        Self {
            first: first_of_month(day),
            last: last_of_month(day),
        }
    }

    /// True for one whole month.
    #[must_use]
    pub fn is_month(&self) -> bool {
        *self == Self::month_of(self.first)
    }

    /// Whole months, and the days that are left on either side.
    #[must_use]
    pub fn parts(&self) -> Parts {
        let (head, tail) = (Self::month_of(self.first), Self::month_of(self.last));
        if head.first == tail.first && *self != head {
            return Parts {
                months: None,
                days: vec![*self],
            };
        }
        let mut days = Vec::new();
        let mut from = head.first;
        if self.first > head.first {
            days.push(Self {
                first: self.first,
                last: head.last,
            });
            from = head.last.succ_opt().unwrap_or(head.last);
        }
        let mut to = tail.first;
        if self.last < tail.last {
            days.push(Self {
                first: tail.first,
                last: self.last,
            });
            to = tail.first.pred_opt().map_or(tail.first, first_of_month);
        }
        Parts {
            months: (from <= to).then_some((from, to)),
            days,
        }
    }

    /// All before the first day.
    #[must_use]
    pub fn before(&self) -> Parts {
        let Some(last) = self.first.pred_opt().filter(|last| *last >= BEGINNING) else {
            return Parts::default();
        };
        Self {
            first: BEGINNING,
            last,
        }
        .parts()
    }
}

/// Whole months as whole years and the months beside them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Spans {
    /// First days of the first and the last whole year.
    pub years: Option<(NaiveDate, NaiveDate)>,
    /// First days of the first and the last month before the years and after them, or of all months without a whole year.
    pub months: Vec<(NaiveDate, NaiveDate)>,
}

impl Spans {
    /// Of the months from one to another, by their first days.
    #[must_use]
    pub fn between(first: NaiveDate, last: NaiveDate) -> Self {
        let january = |year: i32| NaiveDate::from_ymd_opt(year, 1, 1);
        let from = first.year().saturating_add(i32::from(first.month() > 1));
        let to = last.year().saturating_sub(i32::from(last.month() < 12));
        let years = january(from).zip(january(to));
        let Some((start, end)) = years.filter(|(start, end)| start <= end) else {
            return Self {
                years: None,
                months: vec![(first, last)],
            };
        };
        let mut months = Vec::new();
        if first < start {
            months.push((first, start.pred_opt().map_or(first, first_of_month)));
        }
        if let Some(next) = january(to.saturating_add(1)).filter(|next| *next <= last) {
            months.push((next, last));
        }
        Self {
            years: Some((start, end)),
            months,
        }
    }
}

impl FromStr for Period {
    type Err = PeriodError;

    /// A month by its year and number: `2026-11`.
    fn from_str(text: &str) -> Result<Self, PeriodError> {
        let wrong = || PeriodError {
            text: text.trim().to_owned(),
        };
        let (year, month) = text.trim().split_once('-').ok_or_else(wrong)?;
        let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
        if year.len() != 4 || !digits(year) || !(1..=2).contains(&month.len()) || !digits(month) {
            return Err(wrong());
        }
        let number = |text: &str| text.parse::<u32>().map_err(|_| wrong());
        let year = i32::try_from(number(year)?).map_err(|_| wrong())?;
        let first = NaiveDate::from_ymd_opt(year, number(month)?, 1).ok_or_else(wrong)?;
        if first < BEGINNING {
            return Err(wrong());
        }
        Ok(Self::month_of(first))
    }
}
