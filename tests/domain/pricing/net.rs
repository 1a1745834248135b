//! The customer's lines of a net price.
#![expect(clippy::inconsistent_digit_grouping, reason = "cents are set apart: 234_46 is 234.46")]
use super::{cents, m, pc};
use ellwand_domain::{
    pricing::{NetLine, NetLineOf, NetParts, PriceBase, PriceRule, PricingError, discounted},
    quantity::{Millionths, PartsPerMillion},
};
use proptest::prelude::*;

/// Costs of 434.26, 152.40 of them materials.
fn base() -> PriceBase {
    PriceBase { materials: cents(152_40), own_pay: cents(281_86), ..PriceBase::default() }
}

fn parts(materials: i64, labour: i64, handling: i64) -> NetParts {
    NetParts { materials: m(materials), labour: m(labour), handling: m(handling) }
}

#[test]
fn a_price_by_margin_is_told_apart_by_cost() {
    // Derived: a margin of 35 % on 434.26 is 668.092308, of which materials are 152.40 ÷ 434.26.
    let told = base().net_parts(&PriceRule::Margin(pc("35%")), None, cents(12_00)).unwrap();
    assert_eq!(told, parts(234_461_539, 433_630_769, 12_000_000));
    let lines = told.lines([0, 0, 0], 1, &[], 2).unwrap();
    let minor: Vec<i64> = lines.iter().map(|line| line.minor).collect();
    assert_eq!(minor, [234_46, 433_63, 12_00]);
}

#[test]
fn materials_carry_their_own_markup_up_to_the_whole() {
    // Derived: 152.40 and half of it again.
    let fixed = PriceRule::Fixed(cents(600_00));
    let told = base().net_parts(&fixed, Some(pc("50%")), cents(20_00)).unwrap();
    assert_eq!(told, parts(228_600_000, 351_400_000, 20_000_000), "a given price holds the handling");
    let told = base().net_parts(&PriceRule::Fixed(cents(100_00)), Some(pc("50%")), Millionths::ZERO).unwrap();
    assert_eq!(told, parts(100_000_000, 0, 0), "never more than all of it");
}

#[test]
fn what_has_no_share_is_refused() {
    let fixed = |price| base().net_parts(&PriceRule::Fixed(cents(price)), None, cents(5_00));
    assert_eq!(fixed(4_99), Err(PricingError::HandlingAbovePrice));
    assert_eq!(fixed(5_00), Ok(parts(0, 0, 5_000_000)));
    let nothing = PriceBase::default().net_parts(&PriceRule::Margin(pc("35%")), None, Millionths::ZERO);
    assert_eq!(nothing, Err(PricingError::NothingPriced));
}

#[test]
fn each_discount_stands_at_the_rate_that_it_takes_from() {
    // Derived: 20 % and then 15 % are 32 % in all; materials at one tax rate, the rest at another.
    let told = parts(100_000_000, 200_000_000, 10_000_000);
    let lines = told.lines([0, 1, 1], 2, &[pc("20%"), pc("15%")], 2).unwrap();
    let discount = |share, rate, minor| NetLine { of: NetLineOf::Discount(pc(share)), rate, minor };
    assert_eq!(
        lines[3..],
        [
            discount("20%", 0, -20_00),
            discount("20%", 1, -42_00),
            discount("15%", 0, -12_00),
            discount("15%", 1, -25_20)
        ]
    );
    assert_eq!(lines[..3].iter().map(|line| line.rate).collect::<Vec<_>>(), [0, 1, 1]);
}

#[test]
fn labour_stands_where_it_is_nothing_and_a_discount_where_it_takes_nothing() {
    let lines = parts(0, 0, 0).lines([0, 0, 0], 1, &[pc("5%")], 2).unwrap();
    let of: Vec<NetLineOf> = lines.iter().map(|line| line.of).collect();
    assert_eq!(of, [NetLineOf::Labour, NetLineOf::Discount(pc("5%"))]);
}

proptest! {
    #[test]
    fn lines_add_up_to_what_the_discounts_leave(
        amounts in prop::array::uniform3(0..1_000_000_000_000_i64),
        rates in prop::array::uniform3(0..3_usize),
        given in prop::collection::vec(0..=1_000_i64, 0..4),
        digits in 0..4_u32,
    ) {
        let discounts: Vec<PartsPerMillion> = given.iter().map(|d| PartsPerMillion::new(d * 1_000).unwrap()).collect();
        let told = parts(amounts[0], amounts[1], amounts[2]);
        let lines = told.lines(rates, 3, &discounts, digits).unwrap();
        let sum: i64 = lines.iter().map(|line| line.minor).sum();
        // Each of the three parts is discounted to the nearest millionth, and their sum rounded once.
        let left: i64 = amounts.iter().map(|amount| discounted(m(*amount), &discounts).unwrap().get()).sum();
        let unit = 10_i64.pow(6 - digits);
        prop_assert!((i128::from(sum) * i128::from(unit) - i128::from(left)).abs() * 2 <= i128::from(unit), "{sum} of {left}");
        // What one rate carries is never below nothing.
        for rate in 0..3 {
            let carried: i64 = lines.iter().filter(|line| line.rate == rate).map(|line| line.minor).sum();
            prop_assert!(carried >= -1, "{rate}: {carried}");
        }
        prop_assert!(lines.iter().all(|line| matches!(line.of, NetLineOf::Discount(_)) == (line.minor < 0) || line.minor.abs() <= 1));
    }
}
