//! Splits add up to what was split.
#![expect(
    clippy::inconsistent_digit_grouping,
    reason = "cents are set apart: 125_61 is 125.61"
)]
#![expect(clippy::unwrap_used, reason = "a failed expectation ends the test")]

use ellwand_domain::{
    allocation::{
        AllocationError, largest_remainder, largest_remainder_wide, round_alone, round_to_total,
        round_with_rest, split_value,
    },
    quantity::Millionths,
};
use proptest::prelude::*;

fn m(millionths: i64) -> Millionths {
    Millionths::new(millionths).unwrap()
}

#[track_caller]
fn splits(total: i64, weights: &[i64], expected: &[i64]) {
    assert_eq!(largest_remainder(total, weights).as_deref(), Ok(expected));
}

#[test]
fn published_splits_are_reproduced() {
    // OpenStax, Contemporary Mathematics, 11.5: quotas 4.29, 4.29, 1.43.
    splits(10, &[6, 6, 2], &[4, 4, 2]);
    // "Foemmel's conundrum" (after Fowler et al., Patterns of Enterprise Application Architecture, 2003, p. 494-495).
    splits(100, &[1, 1, 1], &[34, 33, 33]);
    splits(5, &[3, 7], &[2, 3]);
}

#[test]
fn derived_splits_are_reproduced() {
    // Derived: 9.99 over 45.00, 30.00, 25.00; rounding each share half up would give 10.00.
    splits(999, &[4500, 3000, 2500], &[449, 300, 250]);
    // Derived: 1 000 yen; 2.500 KWD with three digits.
    splits(1000, &[3300, 5500, 1250], &[328, 547, 125]);
    splits(2500, &[1250, 3333, 417], &[625, 1667, 208]);
    // Derived: freight 12.95 over linen, lining, buttons by value, by quantity (3.5 m, 2.1 m, 1 card), by grams.
    splits(1295, &[8400, 2310, 675], &[955, 263, 77]);
    splits(1295, &[35, 21, 10], &[687, 412, 196]);
    splits(1295, &[1120, 315, 40], &[983, 277, 35]);
    // Derived: 7.77 over three equal lines; two cents over three.
    splits(777, &[1, 1, 1], &[259, 259, 259]);
    splits(2, &[1, 1, 1], &[1, 1, 0]);
}

#[test]
fn a_refund_is_split_as_its_opposite() {
    // Common practice: split the amount without its sign, then negate.
    splits(-1000, &[1, 1, 1], &[-334, -333, -333]);
    splits(i64::MIN, &[1], &[i64::MIN]);
}

#[test]
fn weights_that_say_nothing_are_refused() {
    assert_eq!(largest_remainder(5, &[]), Err(AllocationError::NoWeight));
    assert_eq!(
        largest_remainder(5, &[0, 0]),
        Err(AllocationError::NoWeight)
    );
    assert_eq!(
        largest_remainder(5, &[1, -1, 3]),
        Err(AllocationError::NegativeWeight { position: 2 })
    );
    assert_eq!(
        largest_remainder_wide(i64::MAX, &[i128::MAX / 2, 1]),
        Err(AllocationError::Overflow)
    );
}

#[test]
fn the_largest_invoice_over_the_longest_lengths_is_exact() {
    // Limits of the book: 10⁹ of the currency in millionths, 10 000 km in micrometres.
    let total = 1_000_000_000_000_000;
    let parts = largest_remainder(total, &[10_000_000_000_000, 9_999_999_999_999]).unwrap();
    assert_eq!(parts.iter().sum::<i64>(), total);
    // By hand: half of it, and 10¹⁵/(4 × 10¹³) = 25 more for the longer one.
    assert_eq!(parts, [500_000_000_000_025, 499_999_999_999_975]);
}

#[test]
fn printed_lines_add_up_to_the_printed_total() {
    // Derived: wool used, wasted and left of a lot worth 125.61 (common practice for the printing rule).
    let lines = [m(85_943_684), m(13_222_105), m(26_444_211)];
    assert_eq!(
        round_to_total(&lines, 2),
        Ok((vec![85_94, 13_22, 26_45], 125_61))
    );
    assert_eq!(round_alone(lines[2], 2), Ok(26_44));
    let credits = lines.map(Millionths::negated);
    assert_eq!(
        round_to_total(&credits, 2),
        Ok((vec![-85_94, -13_22, -26_45], -125_61))
    );
}

#[test]
fn a_rounded_total_goes_half_away_from_zero() {
    // Half cases checked with Python's decimal: 2.345 half up is 2.35, -2.345 is -2.35.
    assert_eq!(round_alone(m(2_345_000), 2), Ok(235));
    assert_eq!(round_alone(m(-2_345_000), 2), Ok(-235));
    assert_eq!(round_alone(m(2_344_999), 2), Ok(234));
    assert_eq!(round_to_total(&[m(2_345_000)], 2), Ok((vec![235], 235)));
    assert_eq!(round_to_total(&[m(-2_345_000)], 2), Ok((vec![-235], -235)));
    assert_eq!(round_to_total(&[], 2), Ok((vec![], 0)));
    assert_eq!(
        round_to_total(&[m(1)], 7),
        Err(AllocationError::TooManyDigits { digits: 7 })
    );
}

#[test]
fn thirty_issues_of_one_unit_print_as_what_was_paid() {
    // Derived: 30 units bought together for 3 400.00.
    let issues = split_value(m(3_400_000_000), &[1; 30]).unwrap();
    let (lines, total) = round_to_total(&issues, 2).unwrap();
    assert_eq!(total, 3_400_00);
    assert_eq!(lines.iter().sum::<i64>(), total);
    assert!(
        lines.iter().all(|line| [113_33, 113_34].contains(line)),
        "{lines:?}"
    );
}

#[test]
fn areas_beyond_i64_split_a_value_exactly() {
    // 10 000 km × 2 m in µm² is 2 × 10¹⁹, above i64; by hand, 2 : 1 of 30.000001.
    let area = 20_000_000_000_000_000_000_i128;
    let parts = split_value(m(30_000_001), &[area * 2, area]).unwrap();
    assert_eq!(parts, [m(20_000_001), m(10_000_000)]);
}

fn weights() -> impl Strategy<Value = Vec<i64>> {
    prop::collection::vec(
        prop_oneof![Just(0), 0..50_i64, 0..10_000_000_000_000_i64],
        1..12,
    )
    .prop_filter("something to share by", |weights| {
        weights.iter().any(|weight| *weight > 0)
    })
}

proptest! {
    #[test]
    fn parts_add_up_and_keep_the_quota_rule(total in -1_000_000_000_000_000..1_000_000_000_000_000_i64, weights in weights()) {
        // OpenStax, Contemporary Mathematics, 11.4: no part strays from its quota by a whole unit.
        let parts = largest_remainder(total, &weights).unwrap();
        prop_assert_eq!(parts.iter().sum::<i64>(), total);
        let whole: i128 = weights.iter().copied().map(i128::from).sum();
        for (part, weight) in parts.iter().zip(&weights) {
            let off = i128::from(*part) * whole - i128::from(total) * i128::from(*weight);
            prop_assert!(off.abs() < whole, "part {part} of weight {weight}");
            prop_assert!(*weight > 0 || *part == 0, "a zero weight got {part}");
        }
    }

    #[test]
    fn equal_weights_differ_by_at_most_one_unit(total in -10_000..10_000_i64, n in 1..40_usize, weight in 1..9_i64) {
        let parts = largest_remainder(total, &vec![weight; n]).unwrap();
        let (least, most) = (parts.iter().min().unwrap(), parts.iter().max().unwrap());
        prop_assert!(most - least <= 1);
        // Ties: the first lines get the spare units.
        prop_assert!(parts.iter().map(|part| part.abs()).is_sorted_by(|a, b| a >= b));
    }

    /// The sum is that of the printed total, and what is no rest is rounded alone, so that it hangs on nothing else.
    #[test]
    fn all_but_the_rest_are_rounded_alone(values in prop::array::uniform3(0..5_000_000_000_i64), rest in 0..3_usize, digits in 0..5_u32) {
        let exact = values.map(m);
        let parts = round_with_rest(&exact, rest, digits).unwrap();
        let (_, total) = round_to_total(&exact, digits).unwrap();
        prop_assert_eq!(parts.iter().sum::<i64>(), total);
        prop_assert!(parts.iter().all(|part| *part >= 0));
        let alone = |at: usize| round_alone(exact[at], digits).unwrap();
        let others: Vec<usize> = (0..3).filter(|at| *at != rest).collect();
        if others.iter().map(|at| alone(*at)).sum::<i64>() <= total {
            prop_assert!(others.iter().all(|at| parts[*at] == alone(*at)));
        }
    }

    #[test]
    fn printed_lines_stay_within_a_unit(values in prop::collection::vec(-5_000_000_000..5_000_000_000_i64, 0..20), digits in 0..5_u32) {
        let exact: Vec<Millionths> = values.iter().copied().map(m).collect();
        let (lines, total) = round_to_total(&exact, digits).unwrap();
        prop_assert_eq!(lines.iter().sum::<i64>(), total);
        let unit = 10_i64.pow(6 - digits);
        let sum: i64 = values.iter().sum();
        prop_assert!((total * unit - sum).abs() * 2 <= unit, "the total is rounded to nearest");
        for (line, value) in lines.iter().zip(values) {
            prop_assert!((line * unit - value).abs() < unit, "line {line} for {value}");
        }
    }
}
