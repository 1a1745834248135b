//! What good garments earn of an agreed price, and what an hour is wanted to earn.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 300_00 is 300.00"
)]

use super::{cents, min};
use ellwand_domain::{
    pricing::{PriceBase, PricingError, earned_by_good},
    quantity::Millionths,
};
use proptest::prelude::*;

/// Derived: a spoiled garment is not sold; five of six at 301.50 are 251.25.
#[test]
fn only_good_garments_earn() {
    assert_eq!(earned_by_good(cents(301_50), 5, 6), Ok(cents(251_25)));
    assert_eq!(earned_by_good(cents(300_00), 0, 1), Ok(Millionths::ZERO));
    assert_eq!(earned_by_good(cents(300_00), 1, 1), Ok(cents(300_00)));
    // More than were agreed bring no more.
    assert_eq!(earned_by_good(cents(300_00), 4, 3), Ok(cents(300_00)));
    assert!(matches!(
        earned_by_good(cents(-1), 1, 1),
        Err(PricingError::Negative { .. })
    ));
    assert!(matches!(
        earned_by_good(cents(1), 1, 0),
        Err(PricingError::NoGarments { .. })
    ));
}

/// Derived: 96.00 in the price and 48.00 that no price is for, over six hours.
#[test]
fn an_hour_is_wanted_to_earn_its_pay_over_all_own_hours() {
    let base = PriceBase {
        own_pay: cents(96_00),
        own_minutes: min(360),
        ..PriceBase::default()
    };
    assert_eq!(base.hour_wanted(cents(48_00)), Ok(Some(cents(24_00))));
    assert_eq!(base.hour_wanted(Millionths::ZERO), Ok(Some(cents(16_00))));
    assert_eq!(PriceBase::default().hour_wanted(cents(48_00)), Ok(None));
}

proptest! {
    #[test]
    fn good_and_spoiled_together_are_the_price(net in 0..1_000_000_000_000_i64, good in 0..500_i64, spoiled in 0..500_i64) {
        prop_assume!(good + spoiled > 0);
        let net = Millionths::new(net).unwrap();
        let earned = earned_by_good(net, good, good + spoiled).unwrap();
        let lost = earned_by_good(net, spoiled, good + spoiled).unwrap();
        prop_assert!((earned.plus(lost).unwrap().get() - net.get()).abs() <= 1);
        prop_assert!(earned <= net && (good > 0 || earned.is_zero()));
    }
}
