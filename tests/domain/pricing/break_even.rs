//! What must be sold.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 22_500_00 is 22 500.00"
)]

use super::{cents, m};
use ellwand_domain::pricing::{BreakEven, Contribution, PricingError};
use proptest::prelude::*;

fn contribution(fixed: i64, price: i64, variable: i64) -> Contribution {
    Contribution {
        fixed: cents(fixed * 100),
        price: cents(price * 100),
        variable: cents(variable * 100),
    }
}

#[test]
fn published_break_even_points_are_reproduced() {
    // OpenStax, Principles of Accounting vol. 2, 3.2.
    let plant = contribution(18_000, 100, 20);
    assert_eq!(
        plant.break_even(),
        Ok(BreakEven {
            units: 225,
            sales: cents(22_500_00)
        })
    );
    assert_eq!(plant.profit_at(175), Ok(cents(-4_000_00)));
    assert_eq!(plant.profit_at(225), Ok(cents(0)));
    assert_eq!(plant.profit_at(300), Ok(cents(6_000_00)));
    // Same source, in its text; derived: 133.33 units are 134. In money 20 000 × 400 / 150, up to the millionth.
    let stand = contribution(20_000, 400, 250);
    assert_eq!(
        stand.break_even(),
        Ok(BreakEven {
            units: 134,
            sales: m(53_333_333_334)
        })
    );
}

#[test]
fn a_price_that_leaves_nothing_never_breaks_even() {
    let even = contribution(100, 20, 20).break_even();
    let refused = PricingError::NoContribution {
        price: "20.00".into(),
        variable: "20.00".into(),
    };
    assert_eq!(even, Err(refused));
    assert!(contribution(100, 19, 20).break_even().is_err());
    assert_eq!(
        contribution(100, 21, 20)
            .break_even()
            .map(|point| point.units),
        Ok(100)
    );
    assert_eq!(
        contribution(0, 21, 20)
            .break_even()
            .map(|point| point.units),
        Ok(0)
    );
}

#[test]
fn figures_below_zero_are_refused_by_name() {
    let negative = |what, given: &str| PricingError::Negative {
        what,
        given: given.into(),
    };
    assert_eq!(
        contribution(-1, 2, 1).per_unit(),
        Err(negative("the fixed cost", "-1.00"))
    );
    assert_eq!(
        contribution(1, -2, 1).per_unit(),
        Err(negative("the price", "-2.00"))
    );
    assert_eq!(
        contribution(1, 2, -1).per_unit(),
        Err(negative("the variable cost", "-1.00"))
    );
    assert_eq!(
        contribution(1, 2, 1).profit_at(-1),
        Err(negative("the number of units", "-1"))
    );
}

proptest! {
    #[test]
    fn the_units_are_the_fewest_that_cover(fixed in 0..1_000_000_i64, variable in 0..1_000_i64, each in 1..1_000_i64) {
        let plan = contribution(fixed, variable + each, variable);
        let units = plan.break_even().unwrap().units;
        prop_assert!(plan.profit_at(units).unwrap().get() >= 0);
        prop_assert!(units == 0 || plan.profit_at(units - 1).unwrap().get() < 0);
    }
}
