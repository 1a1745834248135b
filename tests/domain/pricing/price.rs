//! Prices from costs, and back.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 668_09 is 668.09"
)]

use super::{cents, m, min, pc};
use ellwand_domain::{
    costing::HourlyCost,
    pricing::{
        Earnings, PriceBase, PriceRule, PricingError, Profit, discounted, price_by_margin,
        price_by_markup,
    },
    quantity::{HourlyRate, Millionths, PartsPerMillion},
};
use proptest::prelude::*;

fn ppm(share: i64) -> PartsPerMillion {
    PartsPerMillion::new(share).unwrap()
}

fn negative<T>(what: &'static str, given: &str) -> Result<T, PricingError> {
    Err(PricingError::Negative {
        what,
        given: given.into(),
    })
}

#[test]
fn published_markups_are_reproduced() {
    // OpenStax, Contemporary Mathematics, 6.2.
    assert_eq!(price_by_markup(cents(62_00), pc("15%")), Ok(cents(71_30)));
    assert_eq!(price_by_markup(cents(1_30), pc("60%")), Ok(cents(2_08)));
    assert_eq!(
        Profit::of(cents(90_00), cents(103_50)).unwrap().markup,
        Some(pc("15%"))
    );
    assert_eq!(price_by_markup(cents(8_85), pc("20%")), Ok(cents(10_62)));
    assert_eq!(price_by_markup(cents(25_00), pc("18%")), Ok(cents(29_50)));
    // calcreal.com/math/markup-calculator.
    assert_eq!(price_by_markup(cents(40_00), pc("50%")), Ok(cents(60_00)));
    let profit = Profit::of(cents(40_00), cents(60_00)).unwrap();
    assert_eq!(
        (profit.amount, profit.markup, profit.margin),
        (cents(20_00), Some(pc("50%")), Some(ppm(333_333)))
    );
}

/// Derived: 304.13 / 899.66 = 33.80499…, which is 33.80 %; by way of the millionth, 33.8050 %, it would be 33.81 %.
#[test]
fn a_share_is_rounded_once_from_its_amounts() {
    let shares = |cost, price| {
        let profit = Profit::of(cost, price).unwrap();
        [profit.markup_shown, profit.margin_shown].map(|share| share.map(|share| share.to_string()))
    };
    let some = |text: &str| Some(text.to_owned());
    assert_eq!(
        shares(cents(595_53), cents(899_66)),
        [some("51.07"), some("33.8")]
    );
    assert_eq!(
        shares(cents(40_00), cents(60_00)),
        [some("50"), some("33.33")]
    );
    assert_eq!(
        shares(cents(899_66), cents(595_53)),
        [some("-33.8"), some("-51.07")],
        "a loss alike"
    );
    assert_eq!(shares(Millionths::ZERO, cents(1)), [None, some("100")]);
    assert_eq!(shares(cents(10), cents(500_00)), [None, some("99.98")]);
}

#[test]
fn markup_and_margin_are_two_shares_of_one_amount() {
    // Derived: g = m / (1 + m), m = g / (1 − g).
    let table = [
        (250_000, 200_000),
        (333_333, 250_000),
        (500_000, 333_333),
        (1_000_000, 500_000),
        (1_500_000, 600_000),
    ];
    for (markup, margin) in table {
        let cost = cents(1_000_000_00);
        let price = price_by_markup(cost, ppm(markup)).unwrap();
        let profit = Profit::of(cost, price).unwrap();
        assert_eq!(
            (profit.markup, profit.margin),
            (Some(ppm(markup)), Some(ppm(margin)))
        );
    }
    // Derived: a margin of 0 leaves the cost; a cost of 0 leaves all of the price, and no markup.
    assert_eq!(price_by_margin(cents(40_00), pc("0%")), Ok(cents(40_00)));
    for price in [1, 60_00] {
        let profit = Profit::of(Millionths::ZERO, cents(price)).unwrap();
        assert_eq!((profit.markup, profit.margin), (None, Some(pc("100%"))));
    }
    let nothing = Profit::of(cents(1), Millionths::ZERO).unwrap();
    assert_eq!((nothing.markup, nothing.margin), (Some(pc("-100%")), None));
    // Beyond 100 000 % the book has no share, and the amount is reported alone.
    let thread = Profit::of(cents(10), cents(500_00)).unwrap();
    assert_eq!(
        (thread.amount, thread.markup, thread.margin),
        (cents(499_90), None, Some(pc("99.98%")))
    );
}

#[test]
fn a_margin_of_all_or_more_is_refused() {
    for margin in [pc("100%"), pc("120%")] {
        assert_eq!(
            price_by_margin(cents(1), margin),
            Err(PricingError::MarginOfWhole { margin })
        );
    }
    // The last that is accepted: a millionth of the price is the cost.
    assert_eq!(price_by_margin(m(1), ppm(999_999)), Ok(cents(100)));
    let said = PricingError::MarginOfWhole { margin: pc("100%") }.to_string();
    assert_eq!(
        said,
        "a margin of 100 % leaves nothing for the cost; give less than 100 %, or a markup"
    );
}

#[test]
fn the_price_of_a_garment_by_margin_markup_and_keystone() {
    // Derived: the job cost 434.26 of the waistcoat in costing.rs.
    let cost = cents(434_26);
    assert_eq!(
        price_by_margin(cost, pc("35%")).unwrap().rounded(4),
        "668.0923"
    );
    assert_eq!(price_by_markup(cost, pc("35%")), Ok(m(586_251_000)));
    assert_eq!(price_by_markup(cost, pc("100%")), Ok(cents(868_52)));
    // Taking one for the other costs 81.84.
    assert_eq!(668_09 - 586_25, 81_84);
    let profit = Profit::of(cost, cents(668_09)).unwrap();
    // By hand: 233.83 / 434.26 = 53.8456 %, 233.83 / 668.09 = 34.9998 %.
    assert_eq!(
        (profit.markup, profit.margin),
        (Some(ppm(538_456)), Some(ppm(349_998)))
    );
}

#[test]
fn discounts_in_a_row_multiply() {
    // OpenStax, Contemporary Mathematics, 6.2.
    assert_eq!(discounted(cents(75_80), &[pc("25%")]), Ok(cents(56_85)));
    assert_eq!(discounted(cents(168_90), &[pc("30%")]), Ok(cents(118_23)));
    assert_eq!(discounted(cents(500_00), &[pc("10%")]), Ok(cents(450_00)));
    // Derived: 20 % and then 15 % are 32 %, not 35 %.
    assert_eq!(
        discounted(cents(100_00), &[pc("20%"), pc("15%")]),
        Ok(cents(68_00))
    );
    assert_eq!(discounted(cents(100_00), &[]), Ok(cents(100_00)));
    assert_eq!(
        discounted(cents(100_00), &[pc("100%"), pc("15%")]),
        Ok(Millionths::ZERO)
    );
}

#[test]
fn discounts_that_cannot_be_are_refused() {
    let given = pc("100.0001%");
    let above = PricingError::AboveWhole {
        what: "the discount",
        given,
    };
    assert_eq!(discounted(cents(1), &[pc("5%"), given]), Err(above));
    assert_eq!(
        discounted(cents(1), &[pc("-5%")]),
        negative("the discount", "-5 %")
    );
    assert_eq!(discounted(m(-1), &[]), negative("the price", "-0.000001"));
    // Five odd discounts leave the numbers that are held exactly.
    assert!(matches!(
        discounted(cents(1), &[ppm(1); 9]),
        Err(PricingError::Quantity(_))
    ));
}

/// The worksheet of louisianavoices.org: material 25.00, labour 14.00, overhead 8.34.
fn worksheet() -> PriceBase {
    let (materials, own_pay, overhead) = (cents(25_00), cents(14_00), cents(8_34));
    PriceBase {
        materials,
        own_pay,
        overhead,
        own_minutes: min(60),
        ..PriceBase::default()
    }
}

#[test]
fn the_worksheet_price_is_twice_what_the_garment_costs() {
    // Derived from Louisiana Voices, Unit VII lesson 6: wholesale is material, labour and overhead; retail is twice that.
    assert_eq!(worksheet().floor(), Ok(cents(47_34)));
    let keystone = PriceRule::Markup {
        materials: pc("100%"),
        work: pc("100%"),
    };
    assert_eq!(worksheet().price(&keystone), Ok(cents(94_68)));
    let by_margin = worksheet().price(&PriceRule::Margin(pc("50%")));
    assert_eq!(by_margin, Ok(cents(94_68)));
}

#[test]
fn materials_carry_a_markup_of_their_own() {
    // By hand: 25.00 × 1.2 + 22.34 × 1.5 = 30.00 + 33.51.
    let rule = PriceRule::Markup {
        materials: pc("20%"),
        work: pc("50%"),
    };
    assert_eq!(worksheet().price(&rule), Ok(cents(63_51)));
}

/// 10 h own work at 24.00, 2 of them unbillable; 2 h paid at 18.00; cloth 100.00; overhead 65.00; a spoiled cuff 4.00.
fn coat() -> PriceBase {
    let rate = HourlyCost::per_hour(240_000).unwrap();
    PriceBase {
        materials: cents(100_00),
        paid_labour: cents(36_00),
        overhead: cents(65_00),
        own_pay: rate.of(8 * 60).unwrap(),
        own_minutes: min(10 * 60),
        losses: cents(4_00),
    }
}

#[test]
fn a_fixed_price_tells_what_the_hour_earns() {
    // By hand: 455.00 − 100.00 − 65.00 − 36.00 − 4.00 = 250.00 over 10 h.
    let price = coat().price(&PriceRule::Fixed(cents(455_00))).unwrap();
    let earned = coat().earnings(price).unwrap();
    assert_eq!(
        earned,
        Earnings {
            left: cents(250_00),
            minutes: min(600)
        }
    );
    assert_eq!(earned.per_hour(), Ok(cents(25_00)));
    // By hand: at 200.00 every hour costs 0.50.
    assert_eq!(
        coat().earnings(cents(200_00)).unwrap().per_hour(),
        Ok(cents(-50))
    );
}

#[test]
fn a_flat_fee_on_the_customers_cloth_tells_what_the_hour_earns() {
    // dressedtodress.blogspot.com, 26 July 2018: a fee of 50 for 3 h is 16.67 an hour; with one more hour 12.50.
    let skirt = |hours: i64| PriceBase {
        own_minutes: min(hours * 60),
        ..PriceBase::default()
    };
    let per_hour = |hours| {
        skirt(hours)
            .earnings(cents(50_00))
            .unwrap()
            .per_hour()
            .unwrap()
            .rounded(2)
    };
    assert_eq!((per_hour(3), per_hour(4)), ("16.67".into(), "12.50".into()));
}

#[test]
fn a_price_by_hourly_target_earns_the_target() {
    let rule = |materials| PriceRule::HourlyTarget {
        per_hour: HourlyRate::new(250_000).unwrap(),
        materials,
    };
    let price = coat().price(&rule(pc("0%"))).unwrap();
    assert_eq!(price, cents(455_00));
    assert_eq!(coat().earnings(price).unwrap().per_hour(), Ok(cents(25_00)));
    // By hand: a tenth on the cloth is 10.00 more, 1.00 an hour.
    let marked = coat().price(&rule(pc("10%"))).unwrap();
    assert_eq!(
        coat().earnings(marked).unwrap().per_hour(),
        Ok(cents(26_00))
    );
}

#[test]
fn the_floor_leaves_out_what_was_spoiled() {
    // By hand: 100.00 + 36.00 + 65.00 + 8 × 24.00 = 393.00; what was spoiled is not the customer's.
    assert_eq!(coat().floor(), Ok(cents(393_00)));
}

#[test]
fn without_own_hours_nothing_is_earned_by_the_hour() {
    let bought = PriceBase {
        own_minutes: min(0),
        ..coat()
    };
    let refused = bought.earnings(cents(455_00));
    assert_eq!(
        refused,
        Err(PricingError::NoOwnHours {
            left: "250.00".into()
        })
    );
}

#[test]
fn costs_prices_and_rates_below_zero_are_refused_by_name() {
    let low = m(-1);
    let floor = |base: PriceBase| base.floor();
    assert_eq!(
        floor(PriceBase {
            materials: low,
            ..coat()
        }),
        negative("the materials", "-0.000001")
    );
    assert_eq!(
        floor(PriceBase {
            paid_labour: low,
            ..coat()
        }),
        negative("the paid labour", "-0.000001")
    );
    assert_eq!(
        floor(PriceBase {
            overhead: low,
            ..coat()
        }),
        negative("the overhead", "-0.000001")
    );
    assert_eq!(
        floor(PriceBase {
            own_pay: low,
            ..coat()
        }),
        negative("the own pay", "-0.000001")
    );
    assert_eq!(
        floor(PriceBase {
            losses: low,
            ..coat()
        }),
        negative("the losses", "-0.000001")
    );
    assert_eq!(coat().earnings(low), negative("the price", "-0.000001"));
    assert_eq!(
        coat().price(&PriceRule::Fixed(low)),
        negative("the price", "-0.000001")
    );
    let markup = PriceRule::Markup {
        materials: pc("-1%"),
        work: pc("1%"),
    };
    assert_eq!(coat().price(&markup), negative("the markup", "-1 %"));
    assert_eq!(
        coat().price(&PriceRule::Margin(pc("-1%"))),
        negative("the margin", "-1 %")
    );
    assert_eq!(Profit::of(low, cents(1)), negative("the cost", "-0.000001"));
    assert_eq!(
        Profit::of(cents(1), low),
        negative("the price", "-0.000001")
    );
    assert_eq!(
        price_by_markup(low, pc("1%")),
        negative("the cost", "-0.000001")
    );
}

proptest! {
    #[test]
    fn markup_and_margin_lead_back_to_each_other(margin in 0..999_000_i64, cost in 1_000_000..100_000_000_000_i64) {
        // By definition m = g / (1 − g), to the nearest millionth.
        let markup = ppm((margin * 1_000_000 + (1_000_000 - margin) / 2) / (1_000_000 - margin));
        // The price by either is the same, but for the rounding of the markup to a millionth of the cost.
        let (by_margin, by_markup) =
            (price_by_margin(m(cost), ppm(margin)).unwrap(), price_by_markup(m(cost), markup).unwrap());
        prop_assert!((by_margin.get() - by_markup.get()).abs() <= cost / 2_000_000 + 2);
        // And what the price tells is what it was made by.
        let profit = Profit::of(m(cost), by_margin).unwrap();
        prop_assert_eq!(profit.margin, Some(ppm(margin)));
        prop_assert!((profit.markup.unwrap().get() - markup.get()).abs() <= 1);
    }

    #[test]
    fn the_order_of_discounts_does_not_matter(
        price in 0..1_000_000_000_000_i64,
        (given, shuffled) in prop::collection::vec(0..=1_000_i64, 0..5)
            .prop_flat_map(|given| (Just(given.clone()), Just(given).prop_shuffle())),
    ) {
        // In tenths of a percent.
        let discounts = |list: &[i64]| list.iter().map(|d| ppm(d * 1_000)).collect::<Vec<_>>();
        let once = discounted(m(price), &discounts(&given)).unwrap();
        prop_assert_eq!(discounted(m(price), &discounts(&shuffled)).unwrap(), once);
        prop_assert!(once.get() <= price);
        // One by one, each rounded, strays by a millionth a step at most.
        let steps = given.iter().try_fold(m(price), |left, d| discounted(left, &[ppm(d * 1_000)])).unwrap();
        prop_assert!((steps.get() - once.get()).abs() <= i64::try_from(given.len()).unwrap());
    }

    #[test]
    fn a_target_is_what_the_hour_earns(minutes in 1..100_000_i64, rate in 0..5_000_000_i64, cost in 0..1_000_000_000_i64) {
        let base = PriceBase { materials: m(cost), losses: m(cost / 7), own_minutes: min(minutes), ..PriceBase::default() };
        let per_hour = HourlyRate::new(rate).unwrap();
        let price = base.price(&PriceRule::HourlyTarget { per_hour, materials: PartsPerMillion::ZERO }).unwrap();
        let earned = base.earnings(price).unwrap().per_hour().unwrap();
        // The price was rounded to the millionth, which 60 / minutes carries into the hour.
        prop_assert!((earned.get() - rate * 100).abs() <= 30 / minutes + 1);
    }
}
