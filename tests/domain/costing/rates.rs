//! Rates an hour, and the overhead that a period carries.

use super::{applied, cents, m, min, over};
use ellwand_domain::{
    allocation::round_to_total,
    costing::{CostError, HourlyCost, labour_cost},
    quantity::Millionths,
};

#[test]
fn a_rate_is_an_amount_over_an_activity() {
    // OpenStax, Principles of Accounting vol. 2, 4.4: 250 000 over 100 000 is 2.50 (labour money taken as hours at 1.00).
    assert_eq!(applied(&over(250_000, 100_000), 1), cents(2_50));
    // Inputs of exercises in 4.4, results derived.
    assert_eq!(applied(&over(750_000, 60_000), 1), cents(12_50));
    assert_eq!(applied(&over(750_000, 1_500_000), 1), cents(50));
    assert_eq!(applied(&over(750_000, 100_000), 1), cents(7_50));
    // Reverse, derived: 36 550 of labour at 17 an hour is 2 150 h; 73 100 over them is 34.00.
    assert_eq!(labour_cost(min(2_150 * 60), 170_000), Ok(cents(36_550_00)));
    assert_eq!(applied(&over(73_100, 2_150), 1), cents(34_00));
}

#[test]
fn a_rate_over_nothing_is_refused() {
    // Common practice: without activity there is no rate.
    for minutes in [0, -60] {
        assert_eq!(
            HourlyCost::over(cents(1), minutes),
            Err(CostError::ZeroBase { minutes })
        );
    }
    assert_eq!(HourlyCost::over(m(-1), 60), Err(CostError::NegativeRate));
    assert_eq!(labour_cost(min(1), -1), Err(CostError::NegativeRate));
    assert_eq!(applied(&HourlyCost::NONE, 9), Millionths::ZERO);
}

#[test]
fn the_overhead_of_a_period_is_over_or_under_applied() {
    // OpenStax, Principles of Accounting vol. 2, 4.6: applied 250 000; actual 256 500 is 6 500 under, 248 000 is 2 000 over.
    let year = applied(&over(250_000, 100_000), 100_000);
    assert_eq!(cents(256_500_00).minus(year), Ok(cents(6_500_00)));
    assert_eq!(cents(248_000_00).minus(year), Ok(cents(-2_000_00)));
    // Inputs of exercises in 4.6, results derived.
    let tasty_box = applied(&over(100_000, 25_000), 26_000);
    assert_eq!(tasty_box, cents(104_000_00));
    assert_eq!(cents(102_000_00).minus(tasty_box), Ok(cents(-2_000_00)));
    let peaks = applied(&over(350_000, 50_000), 49_000);
    assert_eq!(cents(352_000_00).minus(peaks), Ok(cents(9_000_00)));
}

#[test]
fn a_rounded_rate_would_move_the_result() {
    // Inputs of an exercise in 4.6 (same source), derived: 85 000 over 24 286 h; at a rounded 3.50 it would be 84 350.00.
    let exact = applied(&over(85_000, 24_286), 24_100);
    assert_eq!(round_to_total(&[exact], 2).unwrap().1, 84_349_01);
    let under = cents(90_000_00).minus(exact).unwrap();
    assert_eq!(round_to_total(&[under], 2).unwrap().1, 5_650_99);
    let rounded = HourlyCost::per_hour(35_000).unwrap().of(24_100 * 60);
    assert_eq!(rounded, Ok(cents(84_350_00)));
}
