//! Wash tests: readings before and after each cycle.

use super::{WASHED, cloth, marks, mm, readings, tenth_mm, workshop_test};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{Micrometres, PartsPerMillion},
    shrinkage::{
        Candidates, Direction, Preparation, Ratio, ShrinkageError, WashTest, choose, step,
    },
};
use proptest::prelude::*;

#[test]
fn a_workshop_test_gives_exact_ratios_both_ways() {
    let test = workshop_test();
    let (length, _) = test.ratio(Direction::Lengthwise, 1).unwrap();
    let (width, _) = test.ratio(Direction::Crosswise, 1).unwrap();
    assert_eq!(
        (length, width),
        (Ratio::new(350, 334).unwrap(), Ratio::new(350, 345).unwrap())
    );
    assert_eq!(
        (length.change_text(), width.change_text()),
        ("-4.6 %".into(), "-1.4 %".into())
    );
    assert_eq!(length.shrinkage_ppm().to_string(), "4.57 %");
    assert_eq!(width.shrinkage_ppm().to_string(), "1.43 %");
    // Computed: area factor 0.940 65…; 3.00 m wanted → 3.1437 m; 150 cm → 147.86 cm.
    assert_eq!(length.then(width).factor_text(), "0.9407");
    // Derived: 36/35 = 1.028 57….
    assert_eq!(Ratio::new(35, 36).unwrap().factor_text(), "1.0286");
    assert_eq!(tenth_mm(length.raw_for(mm(3_000)).unwrap()), 31_437);
    assert_eq!(tenth_mm(width.washed_from(mm(1_500)).unwrap()), 14_786);
}

#[test]
fn cycles_are_cumulative_and_the_last_one_stands_in_for_more() {
    let cycles = vec![marks(&[334, 335, 333], &[]), marks(&[332, 333, 331], &[])];
    let test = WashTest::new(
        Preparation::Washed { times: 2 },
        marks(&[350; 3], &[]),
        cycles,
    )
    .unwrap();
    let at = |washes| test.ratio(Direction::Lengthwise, washes).unwrap();
    assert_eq!(at(1), (Ratio::new(350, 334).unwrap(), 1));
    assert_eq!(at(2), (Ratio::new(350, 332).unwrap(), 2));
    assert_eq!(at(5), (Ratio::new(350, 332).unwrap(), 2));
    assert_eq!(at(0), (Ratio::UNCHANGED, 0));
}

#[test]
fn a_wash_test_with_holes_is_refused_each_in_its_own_way() {
    let test = |before, cycles| WashTest::new(WASHED, before, cycles).unwrap_err();
    assert_eq!(test(marks(&[350], &[]), vec![]), ShrinkageError::NoCycles);
    assert_eq!(
        test(marks(&[], &[]), vec![marks(&[], &[])]),
        ShrinkageError::NoReadings
    );
    let unequal = test(
        marks(&[350, 350], &[]),
        vec![marks(&[340, 341], &[]), marks(&[340], &[])],
    );
    let direction = Direction::Lengthwise;
    assert_eq!(
        unequal,
        ShrinkageError::UnequalCounts {
            direction,
            cycle: 2,
            before: 2,
            after: 1
        }
    );
    assert_eq!(
        test(marks(&[350], &[]), vec![marks(&[0], &[])]),
        ShrinkageError::ZeroReading
    );
    assert_eq!(
        test(marks(&[0], &[]), vec![marks(&[340], &[])]),
        ShrinkageError::ZeroReading
    );
    let four = test(marks(&[350; 4], &[]), vec![marks(&[340; 4], &[])]);
    assert!(matches!(
        four,
        ShrinkageError::TooMany {
            found: 4,
            most: 3,
            ..
        }
    ));
    let nothing = WashTest::new(
        Preparation::None,
        marks(&[350], &[]),
        vec![marks(&[340], &[])],
    );
    assert_eq!(nothing, Err(ShrinkageError::NothingTested));
}

/// Derived: 35 → 33 → 32.8 cm lengthwise, 35 → 34 → 33.9 cm crosswise.
#[test]
fn a_further_wash_takes_the_step_between_its_readings() {
    let twice = readings(
        2,
        &[350_000, 330_000, 328_000],
        &[350_000, 340_000, 339_000],
    );
    let tests = [(1, twice)];
    let after = |times, done| {
        let candidates = Candidates {
            preparation: Preparation::Washed { times },
            tests: &tests,
            ..cloth(&[])
        };
        step(&candidates, done).unwrap()
    };
    let (first, second, both) = (after(1, 0), after(2, 1), after(2, 0));
    assert_eq!(
        (first.length, first.width),
        (Ratio::new(350, 330).unwrap(), Ratio::new(350, 340).ok())
    );
    assert_eq!(
        (second.length, second.width),
        (Ratio::new(330, 328).unwrap(), Ratio::new(340, 339).ok())
    );
    assert_eq!(first.length.then(second.length), both.length);
    // 150 cm: 145.71 after the first wash, 145.29 after the second.
    let wide = first.width.unwrap().washed_from(mm(1_500)).unwrap();
    assert_eq!(
        tenth_mm(second.width.unwrap().washed_from(wide).unwrap()),
        14_529
    );
    assert_eq!(second.certainty, Certainty::Measured);
    assert_eq!(second.source, "wash test 1, from wash 1 to wash 2");
    // A third wash was not tested: no more is expected, as an estimate.
    let third = after(3, 2);
    assert_eq!(
        (third.length, third.certainty),
        (Ratio::UNCHANGED, Certainty::Estimated)
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn the_raw_length_is_the_least_that_still_gives_the_washed_one(
        washed in 0_i64..100_000_000, before in 1_i64..30_000_000, after in 1_i64..30_000_000,
    ) {
        let ratio = Ratio::new(before, after).unwrap();
        let washed = Micrometres::new(washed).unwrap();
        let Ok(raw) = ratio.raw_for(washed) else { return Ok(()) };
        prop_assert!(ratio.washed_from(raw).unwrap() >= washed);
        if raw.get() > 0 {
            let shorter = Micrometres::new(raw.get() - 1).unwrap();
            prop_assert!(ratio.washed_from(shorter).unwrap() < washed);
        }
    }

    #[test]
    fn adding_the_percentage_is_always_short(washed in 1_000_000_i64..100_000_000, ppm in 1_000_i64..900_000) {
        // Short by L·s²/(1 − s), algebra.
        let raw = Ratio::from_ppm(PartsPerMillion::new(ppm).unwrap()).unwrap();
        let raw = raw.raw_for(Micrometres::new(washed).unwrap()).unwrap().get();
        let added = i128::from(washed) * i128::from(1_000_000 + ppm);
        prop_assert!(i128::from(raw) * 1_000_000 > added);
    }

    #[test]
    fn a_chain_of_changes_never_promises_more_cloth_than_the_exact_product(
        sides in prop::collection::vec((1_i64..30_000_000, 1_i64..30_000_000), 1..9),
    ) {
        let ratios: Vec<Ratio> = sides.iter().map(|(b, a)| Ratio::new(*b, *a).unwrap()).collect();
        let all = ratios.iter().fold(Ratio::UNCHANGED, |all, next| all.then(*next));
        // Step by step on lengths, each rounded down, is never above the product by more than the rounding.
        let raw = Micrometres::METRE;
        let mut stepped = Some(raw);
        for ratio in &ratios {
            stepped = stepped.and_then(|length| ratio.washed_from(length).ok());
        }
        if let (Some(stepped), Ok(once)) = (stepped, all.washed_from(raw)) {
            prop_assert!(stepped.get() <= once.get().saturating_add(1));
        }
        if ratios.len() <= 2 {
            let (b, a) = sides.iter().fold((1_i128, 1_i128), |(b, a), s| (b * i128::from(s.0), a * i128::from(s.1)));
            prop_assert_eq!(i128::from(all.before()) * a, i128::from(all.after()) * b);
        }
    }

    /// Washes logged one by one come to what they come to at once.
    #[test]
    fn steps_multiply_to_the_whole(um in prop::collection::vec(300_000_i64..360_000, 2..8)) {
        let washes = u8::try_from(um.len() - 1).unwrap();
        let tests = [(1, readings(washes, &um, &um))];
        let to = |times| Candidates { preparation: Preparation::Washed { times }, tests: &tests, ..cloth(&[]) };
        let mut all = Ratio::UNCHANGED;
        for wash in 1..=washes {
            let next = step(&to(wash), wash - 1).unwrap();
            prop_assert_eq!((next.width, next.certainty), (Some(next.length), Certainty::Measured));
            all = all.then(next.length);
            prop_assert_eq!(all, choose(&to(wash)).unwrap().length);
        }
    }

    #[test]
    fn shrinkage_in_ppm_never_asks_for_less_cloth_than_the_ratio(
        washed in 0_i64..100_000_000, before in 1_000_i64..1_000_000, after in 1_000_i64..1_000_000,
    ) {
        let ratio = Ratio::new(before, after).unwrap();
        let washed = Micrometres::new(washed).unwrap();
        if let Ok(stated) = Ratio::from_ppm(ratio.shrinkage_ppm()) {
            prop_assert!(stated.raw_for(washed).unwrap() >= ratio.raw_for(washed).unwrap());
        }
    }
}
