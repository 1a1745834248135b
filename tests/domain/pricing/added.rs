//! What a detail adds to a price.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 668_09 is 668.09"
)]

use super::{cents, m, min, pc};
use ellwand_domain::{
    pricing::{PriceBase, PriceRule, PricingError, price_by_margin, price_by_markup},
    quantity::{HourlyRate, Millionths, PartsPerMillion},
};
use proptest::prelude::*;

/// A job of 434.26 with 10.5 own hours: materials 114.01, own labour 252.00, overhead 68.25 (derived in the chain of
/// OpenStax, Principles of Accounting vol. 2, 4.2).
fn job() -> PriceBase {
    PriceBase {
        materials: cents(114_01),
        overhead: cents(68_25),
        own_pay: cents(252_00),
        own_minutes: min(630),
        ..PriceBase::default()
    }
}

/// Two of its hours, at 24.00 and 6.50 of overhead: 61.00.
fn hem() -> PriceBase {
    PriceBase {
        overhead: cents(13_00),
        own_pay: cents(48_00),
        own_minutes: min(120),
        ..PriceBase::default()
    }
}

struct Added {
    cost: Millionths,
    net: Millionths,
    hour_with: Option<Millionths>,
    hour_without: Option<Millionths>,
}

/// The price as it stands less the price without the part, by the same rule.
fn adds(base: &PriceBase, part: &PriceBase, rule: &PriceRule) -> Result<Added, PricingError> {
    let without = base.without(part)?;
    let (price, less) = (base.price(rule)?, without.price(rule)?);
    Ok(Added {
        cost: part.floor()?,
        net: price.minus(less)?,
        hour_with: base.hour_at(price)?,
        hour_without: without.hour_at(less)?,
    })
}

fn markup(share: &str) -> PriceRule {
    PriceRule::Markup {
        materials: pc(share),
        work: pc(share),
    }
}

#[test]
fn by_a_markup_a_detail_adds_its_cost_and_the_markup_on_it() {
    // OpenStax, Contemporary Mathematics, 6.2: 62.00 and 15 % are 71.30, whatever else the garment costs.
    let part = PriceBase {
        own_pay: cents(62_00),
        own_minutes: min(90),
        ..PriceBase::default()
    };
    let added = adds(&job(), &part, &markup("15%")).unwrap();
    assert_eq!((added.cost, added.net), (cents(62_00), cents(71_30)));
    // The same source: 1.30 and 60 % are 2.08; here of the materials.
    let part = PriceBase {
        materials: cents(1_30),
        ..PriceBase::default()
    };
    assert_eq!(
        adds(&job(), &part, &markup("60%")).unwrap().net,
        cents(2_08)
    );
}

#[test]
fn by_a_margin_a_detail_adds_its_cost_over_what_the_margin_leaves() {
    // Centennial College Libraries, "Markup": price = cost / (1 − margin). By hand: 61.00 / 0.65 = 93.846154, the difference
    // of 434.26 / 0.65 = 668.092308 and 373.26 / 0.65 = 574.246154.
    let added = adds(&job(), &hem(), &PriceRule::Margin(pc("35%"))).unwrap();
    assert_eq!((added.cost, added.net), (cents(61_00), m(93_846_154)));
    // Keystone (a margin of 50 %) doubles it.
    assert_eq!(
        adds(&job(), &hem(), &PriceRule::Margin(pc("50%")))
            .unwrap()
            .net,
        cents(122_00)
    );
}

#[test]
fn to_a_given_price_a_detail_adds_nothing_and_the_hour_earns_less() {
    // By hand: (450.00 − 114.01 − 68.25) / 10.5 h = 25.499048; without it (450.00 − 114.01 − 55.25) / 8.5 h = 33.028235.
    let added = adds(&job(), &hem(), &PriceRule::Fixed(cents(450_00))).unwrap();
    assert_eq!((added.cost, added.net), (cents(61_00), cents(0)));
    assert_eq!(
        (added.hour_with, added.hour_without),
        (Some(m(25_499_048)), Some(m(33_028_235)))
    );
}

#[test]
fn by_an_hourly_target_a_detail_adds_its_hours_at_the_target_and_its_overhead() {
    // By hand: 2 h at 30.00, and 13.00.
    let per_hour: HourlyRate = "30.00".parse().unwrap();
    let rule = PriceRule::HourlyTarget {
        per_hour,
        materials: PartsPerMillion::ZERO,
    };
    let added = adds(&job(), &hem(), &rule).unwrap();
    assert_eq!(
        (added.net, added.hour_with, added.hour_without),
        (cents(73_00), Some(cents(30_00)), Some(cents(30_00)))
    );
}

#[test]
fn a_detail_of_all_hours_leaves_none_and_more_than_there_is_is_refused() {
    let added = adds(&job(), &job(), &markup("15%")).unwrap();
    assert_eq!((added.cost, added.hour_without), (cents(434_26), None));
    let more = PriceBase {
        materials: cents(114_02),
        ..PriceBase::default()
    };
    let refused = adds(&job(), &more, &markup("15%"));
    assert!(matches!(
        refused,
        Err(PricingError::Negative {
            what: "what is left of the materials",
            ..
        })
    ));
}

proptest! {
    /// What a part adds does not hang on the rest: c × (1 + m) and c / (1 − g), to the two roundings.
    #[test]
    fn what_a_detail_adds_follows_from_its_own_cost(
        whole in 0..1_000_000_000_i64, of in 0..=1_000_i64, share in 0..900_000_i64,
    ) {
        let share = PartsPerMillion::new(share).unwrap();
        let part = PriceBase { materials: m(whole / 1_000 * of), ..PriceBase::default() };
        let base = PriceBase { materials: m(whole), ..PriceBase::default() };
        let near = |got: i64, of: i64| (got - of).abs() <= 1;
        let rule = PriceRule::Markup { materials: share, work: share };
        let added = adds(&base, &part, &rule).unwrap().net.get();
        prop_assert!(near(added, price_by_markup(part.materials, share).unwrap().get()));
        let added = adds(&base, &part, &PriceRule::Margin(share)).unwrap().net.get();
        prop_assert!(near(added, price_by_margin(part.materials, share).unwrap().get()));
        prop_assert_eq!(adds(&base, &part, &PriceRule::Fixed(m(whole))).unwrap().net.get(), 0);
    }
}
