//! Periods as whole months and single days.

use chrono::NaiveDate;
use ellwand_domain::{
    month::{Moved, MovedError, Parts, Period, Spans, hour_of_all},
    quantity::Millionths,
};
use proptest::prelude::*;

fn day(text: &str) -> NaiveDate {
    text.parse().unwrap()
}

fn period(first: &str, last: &str) -> Period {
    Period {
        first: day(first),
        last: day(last),
    }
}

#[test]
fn a_month_is_read_by_its_number() {
    assert_eq!("2026-02".parse(), Ok(period("2026-02-01", "2026-02-28")));
    assert_eq!(" 2028-2 ".parse(), Ok(period("2028-02-01", "2028-02-29")));
    for wrong in [
        "",
        "2026",
        "2026-00",
        "2026-13",
        "26-11",
        "2026-11-01",
        "+026-11",
        "2026-+1",
        "0000-01",
    ] {
        assert!(wrong.parse::<Period>().is_err(), "{wrong}");
    }
}

/// By hand: 5 pieces worth 9, of which 2 worth 4 came later, were 3 worth 5; what left later was there before.
#[test]
fn what_was_there_is_what_is_there_less_what_moved_later() {
    let of = |quantity, value| Moved { quantity, value };
    assert_eq!(of(5, 9).before(of(2, 4)), Ok(of(3, 5)));
    assert_eq!(of(5, 9).before(of(-2, -4)), Ok(of(7, 13)));
    assert_eq!(of(-2, 0).before(of(i64::MAX, 0)), Err(MovedError));
}

#[test]
fn a_period_is_whole_months_and_the_days_beside_them() {
    let of = |first: &str, last: &str| period(first, last).parts();
    let months = |first: &str, last: &str| Some((day(first), day(last)));
    assert_eq!(
        of("2026-11-01", "2026-11-30"),
        Parts {
            months: months("2026-11-01", "2026-11-01"),
            days: vec![]
        }
    );
    assert_eq!(
        of("2026-11-02", "2026-11-30"),
        Parts {
            months: None,
            days: vec![period("2026-11-02", "2026-11-30")]
        }
    );
    assert_eq!(
        of("2026-10-15", "2027-01-02"),
        Parts {
            months: months("2026-11-01", "2026-12-01"),
            days: vec![
                period("2026-10-15", "2026-10-31"),
                period("2027-01-01", "2027-01-02")
            ],
        }
    );
    assert_eq!(
        of("2026-10-15", "2026-11-02"),
        Parts {
            months: None,
            days: vec![
                period("2026-10-15", "2026-10-31"),
                period("2026-11-01", "2026-11-02")
            ]
        }
    );
}

#[test]
fn whole_months_are_years_and_the_months_beside_them() {
    let between = |first: &str, last: &str| Spans::between(day(first), day(last));
    let range = |first: &str, last: &str| (day(first), day(last));
    assert_eq!(
        between("2024-11-01", "2027-02-01"),
        Spans {
            years: Some(range("2025-01-01", "2026-01-01")),
            months: vec![
                range("2024-11-01", "2024-12-01"),
                range("2027-01-01", "2027-02-01")
            ]
        }
    );
    assert_eq!(
        between("2026-01-01", "2026-12-01"),
        Spans {
            years: Some(range("2026-01-01", "2026-01-01")),
            months: vec![]
        }
    );
    assert_eq!(
        between("2026-02-01", "2026-12-01").months,
        [range("2026-02-01", "2026-12-01")]
    );
}

/// 40.00 for 1 h and 10.00 for 2 h: 60.00 ÷ 3 h.
#[test]
fn hours_count_by_their_minutes() {
    let hour = |units: i64| Millionths::new(units * 1_000_000).unwrap();
    assert_eq!(
        hour_of_all(&[(hour(40), 60), (hour(10), 120)]),
        Ok(Some(hour(20)))
    );
    // A loss counts too: (40 − 50) ÷ 2.
    assert_eq!(
        hour_of_all(&[(hour(40), 60), (hour(-50), 60)]),
        Ok(Some(hour(-5)))
    );
    assert_eq!(hour_of_all(&[]), Ok(None));
}

proptest! {
    /// Months and days of a period and of all before it hold every day once.
    #[test]
    fn every_day_is_in_one_part(first in 0_i64..1_500, length in 0_i64..500, probe in -800_i64..2_300) {
        let start = day("2024-01-01");
        let at = |days: i64| start + chrono::Duration::days(days);
        let whole = Period { first: at(first), last: at(first + length) };
        let probe = at(probe);
        let holds = |parts: &Parts| {
            let in_months = parts.months.is_some_and(|(first, last)| {
                probe >= first && probe <= Period::month_of(last).last
            });
            let in_days = parts.days.iter().filter(|days| probe >= days.first && probe <= days.last).count();
            usize::from(in_months) + in_days
        };
        let expected = usize::from(probe >= whole.first && probe <= whole.last);
        prop_assert_eq!(holds(&whole.parts()), expected);
        prop_assert_eq!(holds(&whole.before()), usize::from(probe < whole.first));
    }
}

proptest! {
    /// Every month from the first to the last stands in them once, and no other.
    #[test]
    fn years_and_months_cover_each_month_once(start in 0_u32..60, length in 0_u32..60) {
        let month = |number: u32| {
            let year = 2020 + i32::try_from(number / 12).unwrap();
            NaiveDate::from_ymd_opt(year, number % 12 + 1, 1).unwrap()
        };
        let spans = Spans::between(month(start), month(start + length));
        let is_in = |day: NaiveDate, (first, last): (NaiveDate, NaiveDate)| first <= day && day <= last;
        for number in 0..130 {
            let day = month(number);
            let january = month(number / 12 * 12);
            let times = usize::from(spans.years.is_some_and(|years| is_in(january, years)))
                + spans.months.iter().filter(|months| is_in(day, **months)).count();
            let wanted = usize::from((start..=start + length).contains(&number));
            prop_assert_eq!(times, wanted, "{}", day);
        }
    }
}
