//! What is paid in cash, and what that settles.

use super::{ON_TOP, money, taxed};
use ellwand_domain::{
    pricing::{
        CashStep, Paid, PaidFor, PaidSums, Payable, PricingError, Schedule, StagePlan, Term,
    },
    quantity::Money,
};
use proptest::prelude::*;

fn step(text: &str) -> CashStep {
    CashStep::new(money(text)).unwrap()
}

/// Stages of an untaxed invoice; the last takes the rest.
fn schedule(total: &str, stages: &[&str]) -> Schedule {
    let taxed = taxed(ON_TOP, &[(total, "0%")]);
    let nothing = Money {
        minor: 0,
        ..money(total)
    };
    let plan = |amount: Option<&&str>| StagePlan {
        name: "stage".to_owned(),
        terms: amount
            .into_iter()
            .map(|amount| Term::Fixed(money(amount)))
            .collect(),
    };
    let plans: Vec<StagePlan> = stages.iter().map(Some).chain([None]).map(plan).collect();
    Schedule::build(
        &Payable {
            taxed: &taxed,
            labour: nothing,
            materials: nothing,
            paid_for: PaidFor::default(),
        },
        &plans,
    )
    .unwrap()
}

/// Derived from half up to the step of 0.05 that CLDR gives for CHF and CAD, 0.50 for DKK.
#[test]
fn the_customer_pays_the_nearest_whole_steps() {
    for (exact, of, cash) in [
        ("12.32 CHF", "0.05 CHF", "12.30 CHF"),
        ("12.33 CHF", "0.05 CHF", "12.35 CHF"),
        ("12.30 CHF", "0.05 CHF", "12.30 CHF"),
        ("-12.33 CHF", "0.05 CHF", "-12.35 CHF"),
        ("0.02 CAD", "0.05 CAD", "0.00 CAD"),
        ("99.25 DKK", "0.50 DKK", "99.50 DKK"),
        // Ten krónur or yen, where there is no smaller unit than one (ISO 4217).
        ("125 ISK", "10 ISK", "130 ISK"),
    ] {
        assert_eq!(step(of).of(money(exact)), Ok(money(cash)), "{exact}");
    }
    let mixed = step("0.05 CHF").of(money("1.00 EUR"));
    assert!(
        matches!(mixed, Err(PricingError::MixedCurrencies { .. })),
        "{mixed:?}"
    );
}

#[test]
fn a_step_is_one_that_coins_have() {
    for text in [
        "0.02 EUR", "0.05 CHF", "0.10 AUD", "0.20 EUR", "0.25 USD", "0.50 DKK", "1.00 SEK",
        "5.00 HUF", "10 ISK",
    ] {
        assert!(CashStep::new(money(text)).is_ok(), "{text}");
    }
    for text in [
        "0.00 CHF",
        "-0.05 CHF",
        "0.01 CHF",
        "0.03 CHF",
        "0.30 CHF",
        "1.50 CHF",
        "1 JPY",
    ] {
        assert_eq!(
            CashStep::new(money(text)),
            Err(PricingError::CashStep { step: money(text) }),
            "{text}"
        );
    }
}

/// 12.32 is paid by 12.30, and 24.65 by 24.65: the rest after a rounded stage has no rounding of its own to carry.
#[test]
fn a_stage_is_settled_by_what_it_is_in_cash() {
    let (schedule, step) = (schedule("24.65 CHF", &["12.32 CHF"]), step("0.05 CHF"));
    let open = schedule.open(&[]).unwrap();
    assert_eq!(open, [money("12.32 CHF"), money("24.65 CHF")]);
    assert_eq!(
        step.settled(money("12.30 CHF"), &open),
        Ok(money("12.32 CHF"))
    );
    assert_eq!(
        step.settled(money("24.65 CHF"), &open),
        Ok(money("24.65 CHF"))
    );
    // A part of a stage settles itself; what is left of it is rounded when it is paid.
    assert_eq!(
        step.settled(money("5.00 CHF"), &open),
        Ok(money("5.00 CHF"))
    );
    let left = schedule.open(&[money("5.00 CHF")]).unwrap();
    assert_eq!(
        step.settled(money("7.30 CHF"), &left),
        Ok(money("7.32 CHF"))
    );
    let left = schedule.open(&[money("12.32 CHF")]).unwrap();
    assert_eq!(left, [money("12.33 CHF")]);
    assert_eq!(
        step.settled(money("12.35 CHF"), &left),
        Ok(money("12.33 CHF"))
    );
    assert_eq!(schedule.open(&[money("24.65 CHF")]), Ok(vec![]));
    assert_eq!(schedule.open(&[money("30.00 CHF")]), Ok(vec![]));
    let odd = step.settled(money("12.32 CHF"), &open);
    let (paid, cash) = (money("12.32 CHF"), money("12.30 CHF"));
    assert_eq!(
        odd,
        Err(PricingError::NotInCash {
            paid,
            step: money("0.05 CHF"),
            cash
        })
    );
    assert_eq!(
        step.settled(money("-0.35 CHF"), &[money("-0.33 CHF")]),
        Ok(money("-0.33 CHF"))
    );
}

fn coin() -> impl Strategy<Value = CashStep> {
    prop_oneof![
        Just("0.05 CHF"),
        Just("0.10 CHF"),
        Just("0.20 CHF"),
        Just("0.50 CHF"),
        Just("1.00 CHF"),
        Just("5.00 CHF")
    ]
    .prop_map(step)
}

proptest! {
    /// |cash − exact| ≤ step / 2, in whole steps, and paying it leaves nothing open of the amount.
    #[test]
    fn cash_is_never_further_than_half_a_step(minor in -10_000_000_i64..10_000_000, step in coin()) {
        let exact = Money { minor, ..step.step() };
        let cash = step.of(exact).unwrap();
        prop_assert!((cash.minor - minor).abs() * 2 <= step.step().minor);
        prop_assert_eq!(cash.minor % step.step().minor, 0);
        prop_assert_eq!(step.settled(cash, &[exact]), Ok(exact));
    }

    /// Stages that are paid one after the other in cash leave nothing and nothing over.
    #[test]
    fn stages_paid_in_cash_leave_nothing(
        total in 1_000_i64..1_000_000, first in 1_i64..500, second in 1_i64..500, step in coin(),
    ) {
        let text = |minor: i64| Money { minor, ..step.step() }.to_string();
        let schedule = schedule(&text(total), &[&text(first), &text(second)]);
        let mut settled = Vec::new();
        for _ in 0..3 {
            let open = schedule.open(&settled).unwrap();
            let Some(next) = open.first() else { break };
            settled.push(step.settled(step.of(*next).unwrap(), &open).unwrap());
        }
        let standing = schedule.standing(3, &settled).unwrap();
        prop_assert_eq!((standing.left.minor, standing.over.minor, standing.paid.minor), (0, 0, total));
    }
}

#[test]
fn payments_and_their_roundings_are_added_up() {
    // Derived: 50.00 came by transfer, 12.35 in cash for 12.34, and 5.00 went back in cash for 4.98.
    let paid = |minor, rounding| Paid { minor, rounding };
    let all = [paid(5_000, 0), paid(1_235, -1), paid(-500, 2)];
    let sums = PaidSums::of(all);
    assert_eq!((sums.paid, sums.rounding, sums.settled), (5_735, 1, 5_736));
    // What came in counts whole once the order is cancelled; of what went back, what it settled.
    assert_eq!(sums.received, 5_737);
    // More went back than came, by a rounding: nothing is settled.
    let sums = PaidSums::of([paid(100, 0), paid(-102, 0)]);
    assert_eq!((sums.paid, sums.settled, sums.received), (-2, 0, 0));
    assert_eq!(PaidSums::of([]), PaidSums::default());
}
