//! What details take against what they were worth.

use super::{m, min};
use ellwand_domain::pricing::{PastDetail, PricingError, Spread, Worth, rated_tenths};
use proptest::prelude::*;
use std::cmp::Ordering;

fn past(minutes: i64, cost: i64, garments: i64) -> PastDetail {
    PastDetail {
        minutes: min(minutes),
        cost: m(cost),
        garments,
    }
}

fn worth(past: &[PastDetail], ratings: &[i64]) -> Worth {
    Worth::of(past, ratings).unwrap().unwrap()
}

#[test]
fn a_batch_counts_as_one_garment_and_the_median_is_the_one_in_the_middle() {
    // By hand: 120, 90 and a batch of four in 300 min (75 each).
    let worth = worth(
        &[
            past(120, 61_000_000, 1),
            past(90, 45_750_000, 1),
            past(300, 152_500_000, 4),
        ],
        &[4, 5, 4],
    );
    assert_eq!(
        worth.minutes,
        Spread {
            low: 75,
            median: 90,
            high: 120
        }
    );
    assert_eq!(
        worth.cost,
        Spread {
            low: 38_125_000,
            median: 45_750_000,
            high: 61_000_000
        }
    );
    // By hand: 13 / 3 = 4.33.
    assert_eq!(worth.rated_tenths, Some(43));
}

#[test]
fn ratings_are_averaged_to_one_decimal_halves_up() {
    // By hand: 4.5; 4.25 and 4.75 up; 3.6667; none.
    for (ratings, tenths) in [
        (vec![4, 5], 45),
        (vec![4, 4, 4, 5], 43),
        (vec![5, 5, 5, 4], 48),
        (vec![3, 4, 4], 37),
        (vec![1], 10),
    ] {
        assert_eq!(rated_tenths(&ratings), Some(tenths), "{ratings:?}");
    }
    assert_eq!(rated_tenths(&[]), None);
}

#[test]
fn effort_that_pays_least_comes_first_and_what_nobody_rated_last() {
    let dear = worth(&[past(120, 60_000_000, 1)], &[2]);
    let fair = worth(&[past(120, 60_000_000, 1)], &[5]);
    let cheap = worth(&[past(10, 5_000_000, 1)], &[2]);
    let unknown = worth(&[past(900, 900_000_000, 1)], &[]);
    let mut order = [unknown, cheap, fair, dear];
    order.sort_by(Worth::pays_less);
    // By hand: 60 / 2 = 30, 60 / 5 = 12, 5 / 2 = 2.5 for a point.
    assert_eq!(order, [dear, fair, cheap, unknown]);
}

#[test]
fn nothing_is_reported_of_no_garment_and_a_batch_of_none_is_refused() {
    assert_eq!(Worth::of(&[], &[5]), Ok(None));
    let refused = Worth::of(&[past(10, 10, 0)], &[]);
    assert!(
        matches!(refused, Err(PricingError::NoGarments { garments: 0, .. })),
        "{refused:?}"
    );
}

proptest! {
    #[test]
    fn the_range_holds_every_garment(shared in proptest::collection::vec((0..10_000_i64, 1..9_i64), 1..9)) {
        let spread = Spread::of(&shared).unwrap().unwrap();
        for (amount, garments) in &shared {
            prop_assert!(spread.low * garments <= *amount && *amount <= spread.high * garments);
        }
        prop_assert!(spread.low <= spread.median && spread.median <= spread.high);
    }

    #[test]
    fn the_order_is_one_order(costs in proptest::collection::vec((0..50_i64, 0..6_i64), 3)) {
        let all: Vec<Worth> = costs
            .iter()
            .map(|(cost, rating)| worth(&[past(1, *cost, 1)], &if *rating == 0 { vec![] } else { vec![*rating] }))
            .collect();
        for (one, other) in [(0, 1), (1, 2), (0, 2)] {
            prop_assert_eq!(all[one].pays_less(&all[other]), all[other].pays_less(&all[one]).reverse());
        }
        if all[0].pays_less(&all[1]) == Ordering::Less && all[1].pays_less(&all[2]) == Ordering::Less {
            prop_assert_eq!(all[0].pays_less(&all[2]), Ordering::Less);
        }
    }
}
