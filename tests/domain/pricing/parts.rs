//! The customer's lines of a price.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 234_46 is 234.46"
)]
use super::{cents, m, pc};
use ellwand_domain::{
    pricing::{
        PriceBase, PriceLine, PriceLineOf, PriceParts, PriceRule, PricesShown, PricingError,
        Rounding, TaxLine, TaxPlace, TaxRate, TaxRules, Terms, discounted, tax,
    },
    quantity::{Millionths, Money, PartsPerMillion},
};
use proptest::prelude::*;

/// Costs of 434.26, 152.40 of them materials.
fn base() -> PriceBase {
    PriceBase {
        materials: cents(152_40),
        own_pay: cents(281_86),
        ..PriceBase::default()
    }
}

fn parts(materials: i64, labour: i64, handling: i64) -> PriceParts {
    PriceParts {
        materials: m(materials),
        labour: m(labour),
        handling: m(handling),
    }
}

#[test]
fn a_price_by_margin_is_kept_apart_by_cost() {
    // Derived: a margin of 35 % on 434.26 is 668.092308, of which materials are 152.40 ÷ 434.26.
    let report = base()
        .net_parts(&PriceRule::Margin(pc("35%")), None, cents(12_00))
        .unwrap();
    assert_eq!(report, parts(234_461_539, 433_630_769, 12_000_000));
    let lines = report.lines([0, 0, 0], 1, &[], 2).unwrap();
    let minor: Vec<i64> = lines.iter().map(|line| line.minor).collect();
    assert_eq!(minor, [234_46, 433_63, 12_00]);
}

#[test]
fn materials_carry_their_own_markup_up_to_the_whole() {
    // Derived: 152.40 and half of it again.
    let fixed = PriceRule::Fixed(cents(600_00));
    let report = base()
        .net_parts(&fixed, Some(pc("50%")), cents(20_00))
        .unwrap();
    assert_eq!(
        report,
        parts(228_600_000, 351_400_000, 20_000_000),
        "a given price holds the handling"
    );
    let report = base()
        .net_parts(
            &PriceRule::Fixed(cents(100_00)),
            Some(pc("50%")),
            Millionths::ZERO,
        )
        .unwrap();
    assert_eq!(
        report,
        parts(100_000_000, 0, 0),
        "never more than all of it"
    );
}

#[test]
fn what_has_no_share_is_refused() {
    let fixed = |price| base().net_parts(&PriceRule::Fixed(cents(price)), None, cents(5_00));
    assert_eq!(fixed(4_99), Err(PricingError::HandlingAbovePrice));
    assert_eq!(fixed(5_00), Ok(parts(0, 0, 5_000_000)));
    let nothing =
        PriceBase::default().net_parts(&PriceRule::Margin(pc("35%")), None, Millionths::ZERO);
    assert_eq!(nothing, Err(PricingError::NothingPriced));
}

#[test]
fn each_discount_stands_at_the_rate_that_it_takes_from() {
    // Derived: 20 % and then 15 % are 32 % in all; materials at one tax rate, the rest at another.
    let report = parts(100_000_000, 200_000_000, 10_000_000);
    let lines = report
        .lines([0, 1, 1], 2, &[pc("20%"), pc("15%")], 2)
        .unwrap();
    let discount = |share, rate, minor| PriceLine {
        of: PriceLineOf::Discount(pc(share)),
        rate,
        minor,
    };
    assert_eq!(
        lines[3..],
        [
            discount("20%", 0, -20_00),
            discount("20%", 1, -42_00),
            discount("15%", 0, -12_00),
            discount("15%", 1, -25_20)
        ]
    );
    assert_eq!(
        lines[..3].iter().map(|line| line.rate).collect::<Vec<_>>(),
        [0, 1, 1]
    );
}

#[test]
fn labour_stands_where_it_is_nothing_and_a_discount_where_it_takes_nothing() {
    let lines = parts(0, 0, 0).lines([0, 0, 0], 1, &[pc("5%")], 2).unwrap();
    let of: Vec<PriceLineOf> = lines.iter().map(|line| line.of).collect();
    assert_eq!(of, [PriceLineOf::Labour, PriceLineOf::Discount(pc("5%"))]);
}

/// Derived: 100.05 with 20 % inside holds 16.675, rounded 16.68; no net price in cents comes to 100.05 with its tax on top. With
/// 10 % in the materials the parts are as 152.40 × 1.1 to 281.86 × 1.2.
#[test]
fn a_price_that_is_given_with_its_tax_is_met() {
    let fixed = PriceRule::Fixed(cents(100_05));
    let rates = |materials| [pc(materials), pc("20%"), pc("20%")];
    let report = base()
        .parts_with_tax(&fixed, None, Millionths::ZERO, rates("20%"))
        .unwrap();
    assert_eq!(report.total(), Ok(cents(100_05)));
    let report = base()
        .parts_with_tax(&fixed, None, cents(10_05), rates("10%"))
        .unwrap();
    assert_eq!(
        report,
        parts(29_824_936, 60_175_064, 10_050_000),
        "90.00 × 167.64 ÷ 505.872"
    );
    // A markup of 50 % on materials of 152.40, with 10 %, is more than all: never more than that.
    let report = base()
        .parts_with_tax(&fixed, Some(pc("50%")), Millionths::ZERO, rates("10%"))
        .unwrap();
    assert_eq!(report, parts(100_050_000, 0, 0));
    let above = base().parts_with_tax(&fixed, None, cents(100_06), rates("10%"));
    assert_eq!(above, Err(PricingError::HandlingAbovePrice));
    // What is made from costs gets its tax on top, and the handling is typed with it.
    let markup = PriceRule::Markup {
        materials: pc("0%"),
        work: pc("50%"),
    };
    let report = base()
        .parts_with_tax(&markup, Some(pc("0%")), cents(5_00), rates("10%"))
        .unwrap();
    assert_eq!(
        report,
        parts(167_640_000, 507_348_000, 5_000_000),
        "152.40 × 1.1, 281.86 × 1.5 × 1.2"
    );
}

proptest! {
    /// Derived: what is shown with tax is fixed, the tax is inside it, and the net is the rest.
    #[test]
    fn a_typed_price_with_tax_is_always_met(
        costs in prop::array::uniform2(0..1_000_000_000_000_i64),
        typed in 1..10_000_000_i64,
        handling in 0..10_000_i64,
        markup in prop::option::of(0..3_000_i64),
        rates in prop::array::uniform2(0..300_i64),
        place in prop::sample::select(vec![TaxPlace::Line, TaxPlace::Rate, TaxPlace::Invoice]),
    ) {
        let base = PriceBase { materials: m(costs[0]), own_pay: m(costs[1]), ..PriceBase::default() };
        let names = ["low", "full"];
        let rates: Vec<TaxRate> = names.iter().zip(rates)
            .map(|(name, tenths)| TaxRate::new(name, PartsPerMillion::new(tenths * 1_000).unwrap()).unwrap())
            .collect();
        let terms = Terms {
            rule: PriceRule::Fixed(cents(typed)),
            on_materials: markup.map(|tenths| PartsPerMillion::new(tenths * 1_000).unwrap()),
            handling: cents(handling.min(typed)),
            discounts: Vec::new(),
            shown: PricesShown::WithTax,
            rates: rates.clone(),
            of: [0, 1, 1],
        };
        let currency = "EUR".parse().unwrap();
        let lines: Vec<TaxLine> = terms.lines(&base, 2).unwrap().iter().map(|line| TaxLine {
            amount: Money { minor: line.minor, currency },
            rate: names[line.rate].to_owned(),
        }).collect();
        let rules = TaxRules { shown: PricesShown::WithTax, rounding: Rounding::HalfUp, place };
        let taxed = tax(rules, &rates, &lines).unwrap();
        prop_assert_eq!(taxed.total.gross, typed);
        prop_assert_eq!(taxed.total.net + taxed.total.tax, typed);
        for total in &taxed.rates {
            prop_assert_eq!(total.amounts.net + total.amounts.tax, total.amounts.gross);
            let share = i128::from(total.rate.share().get());
            let (tax, gross) = (i128::from(total.amounts.tax), i128::from(total.amounts.gross));
            let error = tax * (1_000_000 + share) - gross * share;
            prop_assert!(error.abs() <= (1_000_000 + share) * 2, "{:?}", total);
        }
    }

    #[test]
    fn lines_add_up_to_what_the_discounts_leave(
        amounts in prop::array::uniform3(0..1_000_000_000_000_i64),
        rates in prop::array::uniform3(0..3_usize),
        given in prop::collection::vec(0..=1_000_i64, 0..4),
        digits in 0..4_u32,
    ) {
        let discounts: Vec<PartsPerMillion> = given.iter().map(|d| PartsPerMillion::new(d * 1_000).unwrap()).collect();
        let report = parts(amounts[0], amounts[1], amounts[2]);
        let lines = report.lines(rates, 3, &discounts, digits).unwrap();
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
        prop_assert!(lines.iter().all(|line| matches!(line.of, PriceLineOf::Discount(_)) == (line.minor < 0) || line.minor.abs() <= 1));
    }
}
