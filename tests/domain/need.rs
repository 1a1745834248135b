//! What a need takes, before the cloth is known and of a piece.

use ellwand_domain::{
    ledger::Rectangle,
    need::{
        ClothDemand, ClothFacts, ClothFit, CuttingRule, Lengths, WidthLength, fit_cloth, likely_raw,
    },
    quantity::{Micrometres, PartsPerMillion, QuantityError, Units},
    shrinkage::{Candidates, Chosen, Preparation, Ratio, Stated, choose},
};
use proptest::prelude::*;

fn um(length: i64) -> Micrometres {
    Micrometres::new(length).unwrap()
}

/// By hand from `washed = raw × 9/10`; that 10 % is much for one wash is common practice.
#[test]
fn a_length_that_lost_a_tenth_was_a_ninth_longer() {
    for (washed, raw) in [
        (0, 0),
        (9, 10),
        (900_000, 1_000_000),
        (2_400_000, 2_666_666),
        (1, 1),
    ] {
        assert_eq!(likely_raw(um(washed)), Ok(um(raw)), "{washed}");
    }
    let longest = likely_raw(Micrometres::MAX);
    assert!(
        matches!(longest, Err(QuantityError::TooLarge { .. })),
        "{longest:?}"
    );
}

proptest! {
    /// Taking the tenth off again gives the length back, to the micrometre that was rounded away.
    #[test]
    fn the_tenth_comes_off_again(washed in 0_i64..9_000_000_000_000) {
        let raw = likely_raw(um(washed)).unwrap().get();
        prop_assert!(raw * 9 <= washed * 10 && (raw + 1) * 9 > washed * 10);
    }
}

/// One wash that leaves `left` of a million, lengthwise; crosswise nothing changes.
fn washed_once(left: i64) -> Chosen {
    let stated = Stated {
        length: Some(PartsPerMillion::new(1_000_000 - left).unwrap()),
        width: Some(PartsPerMillion::ZERO),
    };
    choose(&Candidates {
        preparation: Preparation::Washed { times: 1 },
        tests: &[],
        pinned: None,
        stated,
        fibres: &[],
        construction: None,
    })
    .unwrap()
}

/// What one length takes of a piece 1.50 m wide, raw or washed.
fn fit(washed: i64, left: i64, rule: CuttingRule, preparation: Option<Preparation>) -> ClothFit {
    let demand = ClothDemand {
        lengths: Lengths::ByWidth(vec![WidthLength {
            width: None,
            length: um(washed),
        }]),
        most: None,
        preparation: Some(Preparation::Washed { times: 1 }),
    };
    let rectangle = Rectangle {
        full: um(1_500_000),
        selvedges: um(0),
    };
    fit_cloth(
        &demand,
        &ClothFacts {
            rectangle,
            preparation,
            shrinkage: Ok(washed_once(left)),
        },
        rule,
    )
    .unwrap()
}

/// By hand, from what is cut after the wash: (1.97 + 0.04) ÷ 0.9 = 2.2333… m, at a step of 5 cm 2.25 m; washed as predicted
/// that is 2.025 m, which 2.01 m fit. (1.00 + 0.04) ÷ 0.96 = 1.08333… m.
#[test]
fn the_allowance_is_cut_after_the_wash() {
    let rule = CuttingRule {
        step: um(50_000),
        end_allowance: um(40_000),
    };
    let raw = fit(1_970_000, 900_000, rule, None);
    assert_eq!((raw.least, raw.takes), (um(2_233_334), um(2_250_000)));
    assert_eq!(
        raw.steps(Units::Metric),
        [
            "1.97 m needed + 4 cm end allowance = 2.01 m",
            "2.01 m ÷ 9/10 left lengthwise (0.9000) = 2.234 m raw"
        ]
    );
    let rounding = "2.234 m rounded up to the cutting step of 5 cm = 2.25 m";
    assert_eq!(raw.rounding(Units::Metric).as_deref(), Some(rounding));
    let washed = fit(
        1_970_000,
        900_000,
        rule,
        Some(Preparation::Washed { times: 1 }),
    );
    assert_eq!((washed.least, washed.takes), (um(2_010_000), um(2_050_000)));
    assert_eq!(fit(1_000_000, 960_000, rule, None).least, um(1_083_334));
}

proptest! {
    /// A piece as long as its promise, at any step, still serves it once it is washed exactly as predicted.
    #[test]
    fn a_predicted_wash_leaves_what_it_was_computed_for(
        washed in 10_000_i64..20_000_000, left in 700_000_i64..1_100_000,
        step in prop::sample::select(vec![1_000_i64, 5_000, 10_000, 50_000, 114_300]), allowance in 0_i64..100_000
    ) {
        let rule = CuttingRule { step: um(step), end_allowance: um(allowance) };
        let raw = fit(washed, left, rule, None);
        let after = washed_once(left).length.washed_from(raw.takes).unwrap();
        let least_after = washed_once(left).length.washed_from(raw.least).unwrap();
        let then = fit(washed, left, rule, Some(Preparation::Washed { times: 1 }));
        prop_assert!(then.least <= least_after && least_after <= after);
        prop_assert!(raw.takes.get() - raw.least.get() < step);
    }
}

/// Whole repeats, as common practice counts them: 96 in at a repeat of 27 in take 108 in (rule 1 of textiles.md l), 1.10 m at
/// 32 cm four repeats, 1.28 m (l-7, computed). A length of whole repeats takes no more.
#[test]
fn a_length_that_must_match_is_whole_repeats() {
    let inches = |n: i64| Micrometres::INCH.times(n).unwrap();
    let rule = CuttingRule {
        step: um(50_000),
        end_allowance: um(0),
    };
    let none = Some(Preparation::Washed { times: 1 });
    for (washed, repeat, count, length) in [
        (inches(96), inches(27), 4, inches(108)),
        (um(1_100_000), um(320_000), 4, um(1_280_000)),
        (inches(81), inches(27), 3, inches(81)),
        (um(1), inches(27), 1, inches(27)),
    ] {
        let fit = fit(washed.get(), 960_000, rule, none)
            .in_repeats(repeat, Ratio::UNCHANGED)
            .unwrap();
        assert_eq!(
            (fit.least, fit.takes, fit.rounding(Units::Metric)),
            (length, length, None)
        );
        assert_eq!(fit.repeats.unwrap().count, count);
    }
    // 2.00 m ÷ 0.96 = 2.0833 m raw, four repeats of 60 cm.
    let raw = fit(2_000_000, 960_000, rule, None)
        .in_repeats(um(600_000), Ratio::UNCHANGED)
        .unwrap();
    assert_eq!(raw.takes, um(2_400_000));
    let steps = raw.steps(Units::Metric);
    assert!(steps[0].ends_with("= 2.084 m raw"), "{steps:?}");
    assert_eq!(
        steps[1],
        "2.084 m rounded up to 4 whole repeats of 60 cm = 2.40 m"
    );
    assert!(
        fit(1, 1, rule, none)
            .in_repeats(um(0), Ratio::UNCHANGED)
            .is_err()
    );
}

proptest! {
    /// Whole repeats, never less than asked and never one too many; a predicted wash leaves as many of them as there were.
    #[test]
    fn a_predicted_wash_leaves_whole_repeats_whole(
        washed in 10_000_i64..20_000_000, left in 700_000_i64..1_100_000, repeat in 10_000_i64..1_500_000
    ) {
        let rule = CuttingRule { step: um(50_000), end_allowance: um(40_000) };
        let length = washed_once(left).length;
        let plain = fit(washed, left, rule, None);
        let raw = plain.clone().in_repeats(um(repeat), Ratio::UNCHANGED).unwrap();
        prop_assert_eq!(raw.takes.get() % repeat, 0);
        prop_assert!(raw.takes >= plain.least && raw.takes.get() - plain.least.get() < repeat);
        let then = fit(washed, left, rule, Some(Preparation::Washed { times: 1 }));
        let then = then.in_repeats(um(repeat), length).unwrap();
        prop_assert_eq!(then.takes, length.washed_from(raw.takes).unwrap());
        prop_assert_eq!(then.repeats.unwrap().count, raw.repeats.unwrap().count);
        prop_assert!(then.takes.get() >= washed + 40_000);
    }
}
