//! What a difference between planned and actual comes from.

use super::*;

/// `(price, quantity, total)` in cents for a price in cents per thousand, quantities in thousandths, actual in cents.
fn material(price: i64, planned: i64, actual: i64, quantity: i64) -> (i64, i64, i64) {
    let of = |quantity, value| CostItem {
        extent: Some(Extent::Count(quantity)),
        ..CostItem::new(PriceGroup::Materials, "x", value)
    };
    // The standard price is exact in cents, so that it is a plan of any quantity.
    let standard = m(price * planned * 10);
    break_down(
        of(planned, standard),
        of(quantity, cents(actual)),
        (VarianceKind::MaterialPrice, VarianceKind::MaterialQuantity),
    )
}

/// `(rate, time, total)` in cents for rates in cents per hour.
fn labour(planned: i64, standard: i64, minutes: i64, rate: i64) -> (i64, i64, i64) {
    let of = |minutes: i64, rate: i64| CostItem {
        extent: Some(Extent::Minutes(minutes)),
        ..CostItem::new(
            PriceGroup::OwnLabour,
            "x",
            labour_cost(min(minutes), rate * 100).unwrap(),
        )
    };
    break_down(
        of(planned, standard),
        of(minutes, rate),
        (VarianceKind::LabourRate, VarianceKind::LabourTime),
    )
}

/// `(first, second, total)` in cents of a line.
fn break_down(
    planned: CostItem,
    actual: CostItem,
    of: (VarianceKind, VarianceKind),
) -> (i64, i64, i64) {
    let comparison = Comparison {
        quoted_for: 1,
        made: 1,
        finished: true,
        lines: vec![[Some(planned), Some(actual)]],
        apart: vec![],
    };
    let all = comparison.variances().unwrap();
    let cents = |value: i64| value / 10_000;
    let of_kind = |kind| {
        all.iter()
            .filter(|one| one.kind == kind)
            .map(|one| one.value.get())
            .sum()
    };
    let total = all.iter().map(|one| one.value.get()).sum();
    (cents(of_kind(of.0)), cents(of_kind(of.1)), cents(total))
}

#[test]
fn material_variances_split_into_price_and_quantity() {
    // OpenStax, Principles of Accounting vol. 2, 8.2, Connie's Candy: SP 7.00, SQ 0.25 lb; positive is unfavourable.
    assert_eq!(material(7_00, 20_000, 120_00, 20_000), (-20_00, 0, -20_00));
    assert_eq!(material(7_00, 20_000, 180_00, 20_000), (40_00, 0, 40_00));
    assert_eq!(material(7_00, 250, 1_40, 200), (0, -35, -35));
    assert_eq!(material(7_00, 250, 3_50, 500), (0, 1_75, 1_75));
    assert_eq!(material(7_00, 250, 4_50, 500), (1_00, 1_75, 2_75));
    // Inputs of exercises in 8.2, results derived. 45 000 lb for 9 900, SP 0.205 (here per thousand: 205.00).
    assert_eq!(
        material(205_00, 45_000, 9_900_00, 45_000),
        (675_00, 0, 675_00)
    );
    let jobs = [
        (7_500, 7_250, 1_486_25),
        (8_800, 9_000, 1_845_00),
        (2_300, 2_250, 461_25),
    ];
    let quantities =
        jobs.map(|(planned, actual, value)| material(205_00, planned, value, actual).1);
    assert_eq!(quantities, [-51_25, 41_00, -10_25]);
    assert_eq!(quantities.iter().sum::<i64>(), -20_50);
    // Whizbang: bought 4 000 oz for 11 300 at SP 3; 3 400 used where 534 × 6 were to be.
    assert_eq!(material(3_000_00, 4_000, 11_300_00, 4_000).0, -700_00);
    assert_eq!(
        material(3_000_00, 3_204, 10_200_00, 3_400),
        (0, 588_00, 588_00)
    );
    // Corolla: SP 20, 4 each for 1 040; 4 200 used at 20.75.
    assert_eq!(
        material(20_000_00, 4_160, 87_150_00, 4_200),
        (3_150_00, 800_00, 3_950_00)
    );
}

#[test]
fn labour_variances_split_into_rate_and_time() {
    // OpenStax, Principles of Accounting vol. 2, 8.3, Connie's Candy: SR 8.00, SH 0.10 h (6 min).
    assert_eq!(labour(6, 8_00, 6, 7_50), (-5, 0, -5));
    assert_eq!(labour(6, 8_00, 6, 9_50), (15, 0, 15));
    assert_eq!(labour(6, 8_00, 3, 8_00), (0, -40, -40));
    assert_eq!(labour(6, 8_00, 12, 8_00), (0, 80, 80));
    assert_eq!(labour(6, 8_00, 12, 9_50), (30, 80, 1_10));
    // Inputs of an exercise in 8.3 (Case), results derived.
    assert_eq!(
        labour(31_450 * 60, 15_50, 32_000 * 60, 15_75),
        (8_000_00, 8_525_00, 16_525_00)
    );
}
