//! Rounding beside lines that are printed already.

use ellwand_domain::{
    allocation::{round_beside, round_to_total},
    quantity::Millionths,
};
use proptest::prelude::*;

fn of(values: &[i64]) -> Vec<Millionths> {
    values
        .iter()
        .map(|value| Millionths::new(*value).unwrap())
        .collect()
}

/// Derived, by hand: 3.336 and 27.256667 are 30.592667, printed 30.59.
#[test]
fn what_is_printed_stays_and_the_other_line_takes_what_is_left() {
    let lines = of(&[3_336_000, 27_256_667]);
    assert_eq!(
        round_beside(&lines, &[Some(334), None], 2),
        Ok((vec![334, 2725], 3059))
    );
    assert_eq!(
        round_beside(&lines, &[Some(333), None], 2),
        Ok((vec![333, 2726], 3059))
    );
    for all in [&[None, None][..], &[], &[Some(9), Some(9)]] {
        assert_eq!(round_beside(&lines, all, 2), round_to_total(&lines, 2));
    }
    // Nothing falls below zero by rounding.
    let small = of(&[3_334_000, 3_334_000, 1_000]);
    let printed = [Some(334), Some(334), None];
    assert_eq!(round_beside(&small, &printed, 2), round_to_total(&small, 2));
}

proptest! {
    #[test]
    fn lines_beside_printed_ones_still_add_up(
        values in prop::collection::vec((0..1_000_000_000_i64, any::<bool>()), 1..12),
    ) {
        let lines = of(&values.iter().map(|(value, _)| *value).collect::<Vec<_>>());
        let (alone, total) = round_to_total(&lines, 2).unwrap();
        let printed: Vec<Option<i64>> =
            alone.iter().zip(&values).map(|(line, (_, kept))| kept.then_some(*line)).collect();
        let (beside, same) = round_beside(&lines, &printed, 2).unwrap();
        prop_assert_eq!(total, same);
        prop_assert_eq!(beside.iter().sum::<i64>(), total);
        // What keeps its own printing changes nothing.
        prop_assert_eq!(beside, alone);
    }
}
