//! Rounding to minor units and cash steps.

use super::{MODES, m, money};
use ellwand_domain::{
    pricing::{PricingError, Rounding},
    quantity::{Millionths, Money, MoneyError, QuantityError},
};
use proptest::prelude::*;

/// `value` in cents by all modes, in the order of [`MODES`].
fn to_cents(value: &str) -> [i64; 4] {
    let value = Millionths::from_decimal(value).unwrap();
    MODES.map(|mode| mode.to_minor(value, "EUR".parse().unwrap()).unwrap().minor)
}

#[test]
fn half_cents_go_where_the_name_says() {
    // Derived, checked with Python's decimal.
    assert_eq!(to_cents("0.075"), [8, 7, 8, 7]);
    assert_eq!(to_cents("0.085"), [9, 8, 8, 8]);
    assert_eq!(to_cents("2.345"), [235, 234, 234, 234]);
    // Away from zero is up, for refunds too.
    assert_eq!(to_cents("-2.345"), [-235, -234, -234, -234]);
    // By hand: beside the half.
    assert_eq!(to_cents("0.074999"), [7, 7, 7, 7]);
    assert_eq!(to_cents("0.075001"), [8, 8, 8, 7]);
}

#[test]
fn decimals_round_as_they_are_written() {
    // Derived: as binary floats 1.005 and 2.675 lie below the half and would give 1.00 and 2.67.
    assert_eq!((to_cents("1.005")[0], to_cents("2.675")[0]), (101, 268));
}

#[test]
fn cash_is_paid_in_steps() {
    // Derived; the step of 0.05 for CHF is CLDR's.
    let cash = |value: &str| {
        let value = Millionths::from_decimal(value).unwrap();
        Rounding::HalfUp
            .to_step(value, money("0.05 CHF"))
            .unwrap()
            .to_string()
    };
    assert_eq!(cash("12.32"), "12.30 CHF");
    assert_eq!(cash("12.33"), "12.35 CHF");
    assert_eq!(cash("12.325"), "12.35 CHF");
    // Australia, GST Regulations 2019 s 168-5.11: to the nearest 5 cents, 2.5 cents up.
    let refund = Rounding::HalfUp.to_step(m(25_000), money("0.05 AUD"));
    assert_eq!(refund, Ok(money("0.05 AUD")));
    // DKK is paid in steps of 0.50 (CLDR).
    assert_eq!(
        Rounding::HalfUp.to_step(m(12_250_000), money("0.50 DKK")),
        Ok(money("12.50 DKK"))
    );
}

#[test]
fn digits_are_those_of_the_currency() {
    // ISO 4217: JPY 0, KWD 3.
    let minor = |value: &str, currency: &str| {
        let value = Millionths::from_decimal(value).unwrap();
        Rounding::HalfUp
            .to_minor(value, currency.parse().unwrap())
            .unwrap()
            .to_string()
    };
    assert_eq!(minor("99.5", "JPY"), "100 JPY");
    assert_eq!(minor("1.2345", "KWD"), "1.235 KWD");
    // Common practice: what is typed in digits the currency does not have is a slip, and refused.
    for (text, digits) in [("100.5 JPY", 0), ("1.2345 KWD", 3)] {
        let refused = Money::parse(text, None).unwrap_err();
        let MoneyError::Quantity(QuantityError::TooManyDigits { digits: has, .. }) = refused else {
            panic!("{text} gave {refused}")
        };
        assert_eq!(has, digits);
    }
}

#[test]
fn a_step_of_nothing_is_refused() {
    for step in ["0.00 CHF", "-0.05 CHF"].map(money) {
        let ending = money("0.00 CHF");
        assert_eq!(
            Rounding::Down.to_step(m(1), step),
            Err(PricingError::Step { step, ending })
        );
    }
}

proptest! {
    #[test]
    fn every_mode_stays_within_its_step(value in -1_000_000_000..1_000_000_000_i64, step in 1..500_i64) {
        let coin = Money { minor: step, currency: "EUR".parse().unwrap() };
        for mode in MODES {
            let rounded = mode.to_step(m(value), coin).unwrap();
            prop_assert_eq!(rounded.minor % step, 0);
            let error = rounded.minor * 10_000 - value;
            let near = if mode == Rounding::Down { error.abs() < step * 10_000 } else { error.abs() * 2 <= step * 10_000 };
            prop_assert!(near, "{mode} strays by {error} millionths");
            prop_assert!(mode != Rounding::Down || rounded.minor.abs() * 10_000 <= value.abs());
            // A refund mirrors the payment.
            prop_assert_eq!(mode.to_step(m(-value), coin).unwrap().minor, -rounded.minor);
        }
    }
}
