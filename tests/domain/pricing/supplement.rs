//! A change of an agreed plan. The rule is common practice: an accepted quotation fixes its prices. Figures by hand.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 85_94 is 85.94"
)]

use super::{cents, m, min, pc};
use ellwand_domain::{
    costing::CostItem,
    pricing::{
        Difference::{Given, Gone, Less, More, New},
        Extent::{self, Count, Length, Minutes},
        PlanChange, PlanLine, PriceBase,
        PriceGroup::{self, Materials, Overhead, OwnLabour, PaidLabour},
        PriceLine, PriceRule, PricesShown, PricingError, TaxRate, Terms, lines_more, plan_change,
    },
    quantity::{HourlyRate, Millionths, PartsPerMillion, QuantityError},
};
use proptest::prelude::*;
use std::collections::BTreeMap;

fn line(group: PriceGroup, name: &str, extent: Option<Extent>, cost: Millionths) -> PlanLine {
    PlanLine {
        item: CostItem {
            extent,
            ..CostItem::new(group, name, cost)
        },
        given: false,
        layer: 0,
    }
}

/// Shell 2.60 m for 85.94, six buttons for 5.10, 9 h of sewing for 216.00 and the overhead on them, 58.50 (the plan of the
/// reference garment: 9.0 h at 24.00 and 6.50).
fn agreed() -> Vec<PlanLine> {
    vec![
        line(Materials, "shell", Some(Length(2_600_000)), cents(85_94)),
        line(Materials, "buttons", Some(Count(6)), cents(5_10)),
        line(OwnLabour, "sewing", Some(Minutes(540)), cents(216_00)),
        line(Overhead, "overhead", Some(Minutes(540)), cents(58_50)),
    ]
}

fn changes(
    change: &PlanChange,
) -> Vec<(
    &str,
    ellwand_domain::pricing::Difference,
    Option<Extent>,
    i64,
)> {
    let report = |changed: &'_ ellwand_domain::pricing::ChangedLine| {
        (
            changed.difference,
            changed.line.item.extent,
            changed.line.item.value.get(),
        )
    };
    change
        .lines
        .iter()
        .map(|changed| {
            let (difference, extent, cost) = report(changed);
            (changed.line.item.name.as_str(), difference, extent, cost)
        })
        .collect()
}

/// Silk for the lining in the place of twill: 2 m of each. The twill of 15.81 goes off, the silk of 120.00 comes on.
#[test]
fn another_material_is_another_line_however_much_of_it() {
    let of = |material, cost| {
        let mut line = line(Materials, "lining", Some(Length(2_000_000)), cents(cost));
        line.item.material = material;
        line
    };
    let change = plan_change(&[of(Some(1), 15_81)], &[of(Some(2), 120_00)]).unwrap();
    let two_metres = Some(Length(2_000_000));
    let expected = [
        ("lining", New, two_metres, 120_000_000),
        ("lining", Gone, two_metres, -15_810_000),
    ];
    assert_eq!(changes(&change), expected);
    assert_eq!(change.agreed, [of(Some(2), 120_00)]);
    for (agreed, now) in [(Some(1), Some(1)), (None, Some(2)), (Some(1), None)] {
        let change = plan_change(&[of(agreed, 15_81)], &[of(now, 120_00)]).unwrap();
        assert_eq!(changes(&change), [], "the same, or not known to be another");
    }
}

#[test]
fn each_kind_of_difference_has_its_price() {
    let now = [
        // Half a metre more at 40.00 a metre today; the 2.60 m stay at what was agreed.
        line(Materials, "shell", Some(Length(3_100_000)), cents(124_00)),
        // Two buttons less, at the 0.85 that was agreed.
        line(Materials, "buttons", Some(Count(4)), cents(400_00)),
        // As agreed, at twice the pay.
        line(OwnLabour, "sewing", Some(Minutes(540)), cents(432_00)),
        line(PaidLabour, "embroidery", Some(Minutes(60)), cents(18_00)),
        line(Overhead, "overhead", Some(Minutes(600)), cents(65_00)),
    ];
    let change = plan_change(&agreed(), &now).unwrap();
    assert_eq!(
        changes(&change),
        [
            ("shell", More, Some(Length(500_000)), 20_000_000),
            ("buttons", Less, Some(Count(2)), -1_700_000),
            ("embroidery", New, Some(Minutes(60)), 18_000_000),
            ("overhead", More, Some(Minutes(60)), 6_500_000),
        ]
    );
    assert_eq!((change.cost(), change.unclear.len()), (Ok(cents(42_80)), 0));
    // What is agreed then is the agreed cost and the change; asked again, nothing is left to price.
    let all: Vec<i64> = change
        .agreed
        .iter()
        .map(|line| line.item.value.get())
        .collect();
    assert_eq!(
        all,
        [
            85_940_000,
            20_000_000,
            3_400_000,
            216_000_000,
            18_000_000,
            58_500_000,
            6_500_000
        ]
    );
    assert_eq!(plan_change(&change.agreed, &now).unwrap().lines, []);
}

/// By hand: an hour at 27.17, one more at 54.35 with the second quotation. One hour less takes the second hour off, as it was
/// agreed, so that more and then not is nothing; one and a half less takes half of the first, too.
#[test]
fn what_was_agreed_last_goes_off_first() {
    let of = |layer, minutes, cost| PlanLine {
        layer,
        ..line(OwnLabour, "hem", Some(Minutes(minutes)), cents(cost))
    };
    let agreed = [of(0, 60, 27_17), of(1, 60, 54_35)];
    let less = |minutes| {
        let change = plan_change(&agreed, &[of(2, minutes, 1_000_00)]).unwrap();
        change
            .lines
            .iter()
            .map(|changed| (changed.line.layer, changed.line.item.value))
            .collect::<Vec<_>>()
    };
    assert_eq!(less(60), [(1, cents(-54_35))]);
    assert_eq!(less(30), [(1, cents(-54_35)), (0, m(-13_585_000))]);
    let change = plan_change(&agreed, &[of(2, 60, 1_000_00)]).unwrap();
    assert_eq!(change.agreed, [of(0, 60, 27_17)]);
    assert_eq!(plan_change(&agreed, &[]).unwrap().cost(), Ok(cents(-81_52)));
}

#[test]
fn what_is_gone_goes_off_as_it_was_agreed() {
    let change = plan_change(&agreed(), &agreed()[..2]).unwrap();
    assert_eq!(
        changes(&change),
        [
            ("sewing", Gone, Some(Minutes(540)), -216_000_000),
            ("overhead", Gone, Some(Minutes(540)), -58_500_000),
        ]
    );
    assert_eq!(change.cost(), Ok(cents(-274_50)));
}

#[test]
fn lines_of_one_name_count_together() {
    // Two lots of 1.30 m instead of one of 2.60 m, and paid hours in the place of own ones: nothing the customer asked for.
    let now = [
        line(Materials, "shell", Some(Length(1_300_000)), cents(30_00)),
        line(Materials, "shell", Some(Length(1_300_000)), cents(70_00)),
        line(Materials, "buttons", Some(Count(6)), cents(5_10)),
        line(PaidLabour, "sewing", Some(Minutes(540)), cents(180_00)),
        line(Overhead, "overhead", Some(Minutes(540)), cents(58_50)),
    ];
    assert_eq!(plan_change(&agreed(), &now).unwrap().lines, []);
    // A material and an operation of one name are two things.
    let change = plan_change(
        &[],
        &[
            line(Materials, "hem", Some(Length(1)), m(1)),
            line(OwnLabour, "hem", None, m(2)),
        ],
    );
    assert_eq!(change.unwrap().lines.len(), 2);
}

#[test]
fn what_cannot_be_compared_stays_as_agreed_unless_its_cost_is_given() {
    let mut now = agreed();
    (now[0].item.extent, now[0].item.value) = (None, cents(99_00));
    (now[1].item.extent, now[1].item.value) = (Some(Length(6)), cents(99_00));
    let change = plan_change(&agreed(), &now).unwrap();
    assert_eq!(
        (change.lines.len(), change.unclear),
        (0, vec!["shell".to_owned(), "buttons".to_owned()])
    );
    (now[0].given, now[0].item.value) = (true, cents(12_00));
    let change = plan_change(&agreed(), &now[..1]).unwrap();
    assert_eq!(changes(&change)[0], ("shell", Given, None, 12_000_000));
    let all: Vec<_> = change
        .agreed
        .iter()
        .map(|line| (line.item.value, line.item.extent))
        .collect();
    assert_eq!(
        all,
        [
            (cents(85_94), Some(Length(2_600_000))),
            (cents(12_00), None)
        ]
    );
}

#[test]
fn sums_beyond_the_book_are_refused() {
    let most = line(Materials, "shell", Some(Length(i64::MAX)), Millionths::MAX);
    let limit = PricingError::Quantity(QuantityError::Overflow {
        limit: "what is counted exactly",
    });
    assert_eq!(plan_change(&[most.clone(), most], &[]), Err(limit));
}

#[test]
fn a_part_below_zero_is_taken_off_the_others() {
    let base = PriceBase {
        materials: cents(-30_00),
        paid_labour: cents(10_00),
        overhead: cents(5_00),
        own_pay: cents(40_00),
        ..PriceBase::default()
    };
    let netted = base.netted().unwrap();
    let parts = [
        netted.materials,
        netted.paid_labour,
        netted.overhead,
        netted.own_pay,
    ];
    assert_eq!(parts, [cents(0), cents(0), cents(0), cents(25_00)]);
    let below = PriceBase {
        materials: cents(-60_00),
        ..base
    };
    assert_eq!(
        below.netted(),
        Ok(below),
        "what is below zero in all stays so, and is refused"
    );
    assert!(below.floor().is_err());
}

/// Lines at a whole price per unit, so that nothing is rounded.
fn plan() -> impl Strategy<Value = Vec<PlanLine>> {
    let group = prop::sample::select(vec![Materials, OwnLabour, PaidLabour, Overhead]);
    let name = prop::sample::select(vec!["shell", "lining", "sewing", "overhead"]);
    prop::collection::vec((group, name, 1..5_000_i64), 0..8).prop_map(|lines| {
        lines
            .into_iter()
            .map(|(group, name, n)| line(group, name, Some(Count(n)), m(n * 1_234)))
            .collect()
    })
}

/// Materials with 10 % tax at their cost, work with 20 % at 50 % over it.
fn terms() -> Terms {
    Terms {
        rule: PriceRule::Markup {
            materials: pc("0%"),
            work: pc("50%"),
        },
        on_materials: Some(pc("0%")),
        handling: Millionths::ZERO,
        discounts: Vec::new(),
        shown: PricesShown::WithoutTax,
        rates: vec![
            TaxRate::parse("low", "10%").unwrap(),
            TaxRate::parse("full", "20%").unwrap(),
        ],
        of: [0, 1, 1],
    }
}

fn base(lines: &[PlanLine]) -> PriceBase {
    let own = lines
        .iter()
        .filter(|line| line.item.group == OwnLabour)
        .filter_map(|line| match line.item.extent {
            Some(Minutes(minutes)) => Some(minutes),
            _ => None,
        });
    PriceBase::of_plan(lines, min(own.sum()), "EUR".parse().unwrap()).unwrap()
}

fn sums(lines: &[PriceLine]) -> BTreeMap<String, i64> {
    let mut all = BTreeMap::new();
    for line in lines {
        *all.entry(format!("{:?} at {}", line.of, line.rate))
            .or_default() += line.minor;
    }
    all.retain(|_, minor| *minor != 0);
    all
}

/// By hand: the lining of 100.00 of 120.00 of materials goes, ten hours at 30.00 come; agreed 300.00, the new plan 650.00.
#[test]
fn each_group_of_a_change_is_priced_by_its_own_rule() {
    let agreed = [
        line(Materials, "shell", Some(Length(1_000_000)), cents(20_00)),
        line(Materials, "lining", Some(Length(2_000_000)), cents(100_00)),
        line(OwnLabour, "sewing", Some(Minutes(240)), cents(120_00)),
    ];
    let now = [
        agreed[0].clone(),
        line(OwnLabour, "sewing", Some(Minutes(840)), cents(420_00)),
    ];
    let change = plan_change(&agreed, &now).unwrap();
    let before = terms().lines(&base(&agreed), 2).unwrap();
    let after = terms()
        .lines_after(&base(&agreed), &base(&change.agreed), 2)
        .unwrap();
    let more = lines_more(&before, &after).unwrap();
    let expected = [
        ("Labour at 1".to_owned(), 450_00),
        ("Materials at 0".to_owned(), -100_00),
    ];
    assert_eq!(sums(&more), BTreeMap::from(expected));
    assert_eq!(after, terms().lines(&base(&now), 2).unwrap());
}

/// By hand: 300.00 given for costs of 240.00; 60.00 of the cost go, a quarter of the price with them.
#[test]
fn a_given_price_follows_its_cost() {
    let fixed = Terms {
        rule: PriceRule::Fixed(cents(300_00)),
        on_materials: None,
        ..terms()
    };
    let costs = |materials, work| PriceBase {
        materials: cents(materials),
        own_pay: cents(work),
        ..PriceBase::default()
    };
    let (before, after) = (costs(120_00, 120_00), costs(60_00, 120_00));
    let lines = fixed.lines_after(&before, &after, 2).unwrap();
    assert_eq!(lines.iter().map(|line| line.minor).sum::<i64>(), 225_00);
    assert_eq!(
        fixed.lines_after(&before, &before, 2),
        fixed.lines(&before, 2)
    );
    assert!(
        !fixed.is_alike(&fixed)
            && terms().is_alike(&Terms {
                handling: cents(1),
                ..terms()
            })
    );
}

/// Lines of whole minutes, pieces and micrometres at whole cents each.
fn priced_plan() -> impl Strategy<Value = Vec<PlanLine>> {
    let material = (
        prop::sample::select(vec!["shell", "lining", "buttons"]),
        1..50_i64,
    );
    let work = (prop::sample::select(vec!["sewing", "hem"]), 1..300_i64);
    let lines = (
        prop::collection::btree_map(material.0, material.1, 0..4),
        prop::collection::btree_map(work.0, work.1, 1..3),
    );
    lines.prop_map(|(materials, work)| {
        let minutes: i64 = work.values().sum();
        let materials = materials.into_iter().map(|(name, n)| {
            line(
                Materials,
                name,
                Some(Count(n)),
                cents(n * (name.len() as i64 * 37)),
            )
        });
        let hours = work.into_iter().map(|(name, n)| {
            let group = if name == "hem" { PaidLabour } else { OwnLabour };
            line(group, name, Some(Minutes(n)), cents(n * 45))
        });
        let overhead = line(
            Overhead,
            "overhead",
            Some(Minutes(minutes)),
            cents(minutes * 11),
        );
        materials.chain(hours).chain([overhead]).collect()
    })
}

fn rule() -> impl Strategy<Value = (PriceRule, Option<PartsPerMillion>)> {
    let share = || (0..950_i64).prop_map(|tenths| PartsPerMillion::new(tenths * 1_000).unwrap());
    prop_oneof![
        (share(), share())
            .prop_map(|(materials, work)| (PriceRule::Markup { materials, work }, Some(materials))),
        share().prop_map(|margin| (PriceRule::Margin(margin), None)),
        (share(), 1_000..90_000_i64).prop_map(|(materials, rate)| {
            let per_hour = HourlyRate::new(rate * 1_000).unwrap();
            (
                PriceRule::HourlyTarget {
                    per_hour,
                    materials,
                },
                Some(materials),
            )
        }),
    ]
}

proptest! {
    /// Derived: what is agreed and its supplement are the plan quoted anew, by group, rule and tax rate, to the cent.
    #[test]
    fn agreed_and_supplement_are_the_plan_quoted_anew(
        first in priced_plan(),
        second in priced_plan(),
        (rule, on_materials) in rule(),
        discounts in prop::collection::vec(0..500_i64, 0..3),
        of in prop::array::uniform3(0..2_usize),
        inside in any::<bool>(),
    ) {
        let terms = Terms {
            rule,
            on_materials,
            discounts: discounts.iter().map(|tenths| PartsPerMillion::new(tenths * 1_000).unwrap()).collect(),
            shown: if inside { PricesShown::WithTax } else { PricesShown::WithoutTax },
            of,
            ..terms()
        };
        let change = plan_change(&first, &second).unwrap();
        let before = terms.lines(&base(&first), 2).unwrap();
        let after = terms.lines_after(&base(&first), &base(&change.agreed), 2).unwrap();
        let more = lines_more(&before, &after).unwrap();
        let anew = terms.lines(&base(&second), 2).unwrap();
        let all: Vec<PriceLine> = before.into_iter().chain(more).collect();
        prop_assert_eq!(sums(&all), sums(&anew));
        prop_assert_eq!(base(&change.agreed), base(&second));
    }

    #[test]
    fn a_change_of_nothing_prices_nothing(plan in plan(), factor in 1..9_i64) {
        // Whatever it costs today.
        let dearer = plan.iter().map(|line| PlanLine { item: CostItem { value: m(line.item.value.get() * factor), ..line.item.clone() }, ..line.clone() });
        let change = plan_change(&plan, &dearer.collect::<Vec<_>>()).unwrap();
        prop_assert_eq!((change.lines, change.unclear), (vec![], vec![]));
    }

    #[test]
    fn agreed_and_its_supplements_cost_what_the_plan_does(first in plan(), second in plan(), third in plan()) {
        let sum = |lines: &[PlanLine]| Millionths::sum(lines.iter().map(|line| line.item.value)).unwrap();
        let one = plan_change(&first, &second).unwrap();
        prop_assert_eq!(sum(&first).plus(one.cost().unwrap()), Ok(sum(&second)));
        prop_assert_eq!(sum(&one.agreed), sum(&second));
        let two = plan_change(&one.agreed, &third).unwrap();
        prop_assert_eq!(sum(&second).plus(two.cost().unwrap()), Ok(sum(&third)));
    }

    #[test]
    fn netting_changes_no_sum(parts in prop::array::uniform4(-1_000..1_000_i64)) {
        let [materials, paid_labour, overhead, own_pay] = parts.map(m);
        let base = PriceBase { materials, paid_labour, overhead, own_pay, ..PriceBase::default() };
        let netted = base.netted().unwrap();
        let after = [netted.materials, netted.paid_labour, netted.overhead, netted.own_pay];
        prop_assert_eq!(after.iter().map(|part| part.get()).sum::<i64>(), parts.iter().sum::<i64>());
        prop_assert!(parts.iter().sum::<i64>() < 0 || after.iter().all(|part| part.get() >= 0));
    }
}
