//! Lengths by weight whose figures were corrected.

use ellwand_domain::{
    quantity::{Micrometres, Milligrams, MilligramsPerM2, Tex},
    weighed::{Weight, length_anew},
};
use proptest::prelude::*;

fn cloth(mg_m2: i64, full_um: i64) -> Weight {
    let full_width = Micrometres::new(full_um).unwrap();
    Weight::Cloth {
        mass: MilligramsPerM2::new(mg_m2).unwrap(),
        full_width,
    }
}

fn thread(text: &str) -> Weight {
    Weight::Thread(text.parse::<Tex>().unwrap())
}

/// The definition of tex: 30 g of 30 tex are 1000 m, of 60 tex 500 m; with a reel 3 g heavier 27 g of 30 tex are 900 m.
#[test]
fn thread_follows_its_count_and_its_reel() {
    let (all, was) = (Micrometres::from_mm(1_000_000), thread("30tex"));
    for (now, heavier, mm) in [
        ("60tex", 0, 500_000),
        ("30tex", 3_000, 900_000),
        ("30tex", -3_000, 1_100_000),
    ] {
        assert_eq!(
            length_anew(all, was, thread(now), heavier),
            Ok(Micrometres::from_mm(mm)),
            "{now} {heavier}"
        );
    }
    for nothing in [30_000, 30_001] {
        assert!(length_anew(all, was, was, nothing).is_err(), "{nothing}");
    }
    // Of a reel beside others, no whole milligrams: a third of 1 kg of 30 tex, 11 111.111 m, is twice that of 15 tex.
    let third = Micrometres::new(11_111_111_111).unwrap();
    assert_eq!(
        length_anew(third, was, thread("15tex"), 0).unwrap().get(),
        22_222_222_222
    );
}

proptest! {
    /// What is corrected is what would have been said at once, and corrected back is as it was: by the same mass.
    #[test]
    fn a_corrected_length_is_that_of_the_same_mass(
        net in 100_000_i64..50_000_000, was in 40_000_i64..300_000, now in 40_000_i64..300_000,
        full in 700_000_i64..1_600_000, wide in 700_000_i64..1_600_000
    ) {
        let net = Milligrams::new(net).unwrap();
        let (was, now) = (cloth(was, full), cloth(now, wide));
        let (first, at_once) = (was.length(net).unwrap(), now.length(net).unwrap());
        let corrected = length_anew(first, was, now, 0).unwrap();
        prop_assert_eq!(corrected, at_once);
        prop_assert_eq!(length_anew(corrected, now, was, 0).unwrap(), first);
    }
}
