//! What a need takes before the cloth is known.

use ellwand_domain::{
    need::likely_raw,
    quantity::{Micrometres, QuantityError},
};
use proptest::prelude::*;

fn um(length: i64) -> Micrometres {
    Micrometres::new(length).unwrap()
}

/// By hand from `washed = raw × 9/10`; that 10 % is much for one wash is common practice.
#[test]
fn a_length_that_lost_a_tenth_was_a_ninth_longer() {
    for (washed, raw) in [(0, 0), (9, 10), (900_000, 1_000_000), (2_400_000, 2_666_666), (1, 1)] {
        assert_eq!(likely_raw(um(washed)), Ok(um(raw)), "{washed}");
    }
    let longest = likely_raw(Micrometres::MAX);
    assert!(matches!(longest, Err(QuantityError::TooLarge { .. })), "{longest:?}");
}

proptest! {
    /// Taking the tenth off again gives the length back, to the micrometre that was rounded away.
    #[test]
    fn the_tenth_comes_off_again(washed in 0_i64..9_000_000_000_000) {
        let raw = likely_raw(um(washed)).unwrap().get();
        prop_assert!(raw * 9 <= washed * 10 && (raw + 1) * 9 > washed * 10);
    }
}
