//! Time from past garments.

use super::min;
use ellwand_domain::{
    certainty::Certainty,
    pricing::{PastWork, PricingError, TimeEstimate},
};
use proptest::prelude::*;

fn past(work: &[(i64, i64)]) -> Vec<PastWork> {
    work.iter()
        .map(|(minutes, garments)| PastWork {
            minutes: min(*minutes),
            garments: *garments,
        })
        .collect()
}

fn estimate(work: &[(i64, i64)]) -> Option<TimeEstimate> {
    TimeEstimate::of(&past(work), None).unwrap()
}

#[test]
fn three_past_garments_give_a_range_and_its_count() {
    // By hand: 540, 600 and a batch of 6 in 2 880 min (480 each); the median of three is the one in the middle.
    let range = TimeEstimate::Range {
        low: min(480),
        likely: min(540),
        high: min(600),
        count: 3,
    };
    assert_eq!(estimate(&[(600, 1), (540, 1), (2_880, 6)]), Some(range));
    assert_eq!(
        (range.likely(), range.certainty()),
        (min(540), Certainty::Measured)
    );
}

#[test]
fn the_median_of_an_even_number_is_the_mean_of_the_middle_two() {
    // By hand: the middle two of 100, 200, 301, 900 are 200 and 301, their mean 250.5, halves up.
    let range = TimeEstimate::Range {
        low: min(100),
        likely: min(251),
        high: min(900),
        count: 4,
    };
    assert_eq!(
        estimate(&[(900, 1), (200, 1), (301, 1), (100, 1)]),
        Some(range)
    );
}

#[test]
fn parts_of_a_minute_are_kept_until_the_end() {
    // By hand: 100/3 = 33.33 down, 101/3 = 33.67 to the nearest, 103/3 = 34.33 up.
    let range = TimeEstimate::Range {
        low: min(33),
        likely: min(34),
        high: min(35),
        count: 3,
    };
    assert_eq!(estimate(&[(103, 3), (100, 3), (101, 3)]), Some(range));
    // The mean of 1/3 and 1/6 is 1/4; rounding each first would give the same 0, the mean of 2/3 and 1/3 gives 1/2.
    assert_eq!(
        estimate(&[(2, 3), (1, 3)]),
        Some(TimeEstimate::Few {
            likely: min(1),
            count: 2
        })
    );
}

#[test]
fn fewer_than_three_give_no_range() {
    assert_eq!(
        estimate(&[(500, 1)]),
        Some(TimeEstimate::Few {
            likely: min(500),
            count: 1
        })
    );
    assert_eq!(
        estimate(&[(500, 1), (700, 1)]),
        Some(TimeEstimate::Few {
            likely: min(600),
            count: 2
        })
    );
}

#[test]
fn without_past_garments_only_a_typed_time_is_there_and_it_is_marked() {
    assert_eq!(estimate(&[]), None);
    let typed = TimeEstimate::of(&[], Some(min(480))).unwrap().unwrap();
    assert_eq!(typed, TimeEstimate::Typed { likely: min(480) });
    assert_eq!(
        (typed.likely(), typed.certainty()),
        (min(480), Certainty::Estimated)
    );
    // What was made is known better.
    let known = TimeEstimate::of(&past(&[(500, 1)]), Some(min(480))).unwrap();
    assert_eq!(
        known,
        Some(TimeEstimate::Few {
            likely: min(500),
            count: 1
        })
    );
}

#[test]
fn a_batch_of_no_garments_is_refused() {
    for garments in [0, -1] {
        let refused = TimeEstimate::of(&past(&[(500, 1), (30, garments)]), None);
        assert_eq!(
            refused,
            Err(PricingError::NoGarments {
                minutes: 30,
                garments
            })
        );
    }
}

proptest! {
    #[test]
    fn the_range_holds_every_past_garment(work in prop::collection::vec((0..100_000_i64, 1..50_i64), 3..9)) {
        let Some(TimeEstimate::Range { low, likely, high, count }) = estimate(&work) else {
            return Err(TestCaseError::fail("three garments or more give a range"));
        };
        prop_assert_eq!(count, work.len());
        prop_assert!(low <= likely && likely <= high);
        for (minutes, garments) in &work {
            prop_assert!(low.get() * garments <= *minutes && *minutes <= high.get() * garments);
        }
        // Half of them or more lie on either side of the median, a minute for its rounding given.
        let shorter = work.iter().filter(|(minutes, n)| *minutes <= (likely.get() + 1) * n).count();
        let longer = work.iter().filter(|(minutes, n)| *minutes >= (likely.get() - 1) * n).count();
        prop_assert!(2 * shorter >= count && 2 * longer >= count);
    }
}
