//! Which pay rate counts.

use chrono::NaiveDate;
use ellwand_domain::{
    costing::{PayRate, labour_cost},
    quantity::{HourlyRate, Millionths, Minutes},
    setting::WorkKind::{self, Cutting, Hand, Machine},
};
use proptest::prelude::*;

fn day(number: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 1, 1).unwrap() + chrono::Days::new(u64::from(number))
}

fn rate(kind: Option<WorkKind>, per_hour: i64, from: u32) -> PayRate {
    PayRate {
        kind,
        paid: true,
        per_hour: HourlyRate::new(per_hour * 10_000).unwrap(),
        from: day(from),
    }
}

/// The rates of a workshop in which a person earns 15 an hour, 18 by hand from day 10 on, and all more from day 20 on.
fn rates() -> [PayRate; 4] {
    [
        rate(None, 15, 5),
        rate(Some(Hand), 18, 10),
        rate(None, 16, 20),
        rate(Some(Hand), 19, 30),
    ]
}

#[test]
fn the_narrower_rate_counts_whichever_is_newer() {
    let on = |kind, number| {
        PayRate::counting(&rates(), kind, day(number)).map(|rate| rate.per_hour.decimal())
    };
    for (kind, number, expected) in [
        (Machine, 4, None),
        (Hand, 4, None),
        (Machine, 5, Some("15.00")),
        (Hand, 9, Some("15.00")),
        (Hand, 10, Some("18.00")),
        (Machine, 10, Some("15.00")),
        (Machine, 19, Some("15.00")),
        (Machine, 20, Some("16.00")),
        (Cutting, 99, Some("16.00")),
        // The rate for all work is the newer one here.
        (Hand, 29, Some("18.00")),
        (Hand, 30, Some("19.00")),
        (Hand, 99, Some("19.00")),
    ] {
        assert_eq!(
            on(kind, number).as_deref(),
            expected,
            "{kind} on day {number}"
        );
    }
}

/// Labour of a job at two rates: 15 + 15 + 2 × 18 = 66 (OpenStax, Principles of Accounting vol. 2, 4.2 and 4.5, job MAC001).
#[test]
fn a_job_is_paid_by_what_each_hour_was() {
    let hours = [(Machine, 1), (Cutting, 1), (Hand, 2)];
    let cost = hours.map(|(kind, hours)| {
        let rate = PayRate::counting(&rates(), kind, day(12)).unwrap();
        labour_cost(Minutes::new(hours * 60).unwrap(), rate.per_hour.get()).unwrap()
    });
    assert_eq!(Millionths::sum(cost).unwrap().decimal(), "66.00");
}

#[test]
fn hours_are_wages_whichever_rate_was_set_first() {
    let own = |kind, from| PayRate {
        paid: false,
        ..rate(kind, 18, from)
    };
    let paid =
        |rates: &[PayRate], number| PayRate::counting(rates, Hand, day(number)).unwrap().paid;
    assert!(!paid(&[own(Some(Hand), 5), own(None, 5)], 9));
    assert!(
        paid(&[own(Some(Hand), 5), rate(None, 15, 7)], 9),
        "the rate for all work came later"
    );
    assert!(
        !paid(&[own(Some(Hand), 5), rate(None, 15, 7)], 6),
        "and does not count yet"
    );
}

fn any_rate() -> impl Strategy<Value = PayRate> {
    let kind = prop_oneof![
        Just(None),
        Just(Some(Hand)),
        Just(Some(Machine)),
        Just(Some(Cutting))
    ];
    (kind, 0_i64..50, 0_u32..20).prop_map(|(kind, per_hour, from)| rate(kind, per_hour, from))
}

proptest! {
    /// It is one of them, has begun, is for that work, and none that is as narrow is newer; their order does not matter.
    #[test]
    fn what_counts_is_the_latest_of_the_narrowest(
        mut rates in proptest::collection::vec(any_rate(), 0..12),
        number in 0_u32..25,
    ) {
        rates.sort_by_key(|rate| (rate.kind, rate.from));
        rates.dedup_by_key(|rate| (rate.kind, rate.from));
        let fits = |rate: &&PayRate| rate.from <= day(number) && matches!(rate.kind, None | Some(Hand));
        let fitting: Vec<&PayRate> = rates.iter().filter(fits).collect();
        let found = PayRate::counting(&rates, Hand, day(number));
        prop_assert_eq!(found.is_some(), !fitting.is_empty());
        if let Some(found) = found {
            prop_assert!(fitting.contains(&&found));
            let narrow = fitting.iter().any(|rate| rate.kind.is_some());
            prop_assert_eq!(found.kind.is_some(), narrow);
            let newer = |rate: &&&PayRate| rate.kind == found.kind && rate.from > found.from;
            prop_assert!(fitting.iter().find(newer).is_none());
        }
        rates.reverse();
        prop_assert_eq!(PayRate::counting(&rates, Hand, day(number)), found);
    }
}
