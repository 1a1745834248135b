//! Shrinkage: ISO 5077's change, the length before from the length after, wash tests, and which source counts.

use ellwand_domain::{
    certainty::Certainty,
    cloth::{FibreShare, parse_shares},
    quantity::{Micrometres, PartsPerMillion},
    shrinkage::{
        Candidates, Direction, Marks, Preparation, Ratio, ShrinkageError, Source, Stated, WashTest, choose,
        typical, typical_of_blend,
    },
};
use proptest::prelude::*;

fn mm(mm: i64) -> Micrometres {
    Micrometres::from_mm(mm)
}

fn percent(text: &str) -> Ratio {
    Ratio::from_ppm(text.parse().unwrap()).unwrap()
}

/// To a tenth of a millimetre, as the examples print.
fn tenth_mm(length: Micrometres) -> i64 {
    (length.get() + 50) / 100
}

fn marks(lengthwise: &[i64], crosswise: &[i64]) -> Marks {
    let um = |readings: &[i64]| readings.iter().map(|mm| Micrometres::from_mm(*mm)).collect();
    Marks { lengthwise: um(lengthwise), crosswise: um(crosswise) }
}

const WASHED: Preparation = Preparation::Washed { times: 1 };

fn workshop_test() -> WashTest {
    // The worked test, computed from the definition in ISO 5077: 350 → 334/335/333 and 345/346/344 mm.
    let after = marks(&[334, 335, 333], &[345, 346, 344]);
    WashTest::new(WASHED, marks(&[350; 3], &[350; 3]), vec![after]).unwrap()
}

#[test]
fn the_change_is_negative_when_cloth_shrinks() {
    // ISO 5077:2007 as summarised at texfire.net: change % = (after − before) / before × 100.
    // a-1, kembrel.com: 20 → 17 is −15.0 % (the page once calls it an increase).
    assert_eq!(Ratio::new(20, 17).unwrap().change_text(), "-15.0 %");
    // a-6, computed: 350 × 3 → 339, 340, 341 is −2.86 %, reported −2.9 %.
    let test = WashTest::new(WASHED, marks(&[350; 3], &[]), vec![marks(&[339, 340, 341], &[])]).unwrap();
    let (ratio, tested) = test.ratio(Direction::Lengthwise, 1).unwrap();
    assert_eq!((ratio.change_permille(), tested), (-29, 1));
    assert_eq!(ratio.change_text(), "-2.9 %");
    assert_eq!(test.ratio(Direction::Crosswise, 1), None);
    // a-12, computed: 500 → 506 grows by 1.2 %.
    let growth = Ratio::new(500, 506).unwrap();
    assert_eq!(growth.change_text(), "+1.2 %");
    assert_eq!(growth.growth().unwrap().get(), 12_000);
    assert_eq!(Ratio::UNCHANGED.change_text(), "0.0 %");
}

#[test]
fn the_length_before_is_divided_never_multiplied() {
    // a-2 … a-5, computed from L / (1 − s); L × (1 + s) is the trap beside each.
    for (need, s, tenths, trap_short) in [
        (3_000, "5%", 31_579, 7_895),
        (3_000, "10%", 33_333, 33_334),
        (2_500, "8%", 27_174, 17_392),
        (3_000, "6%", 31_915, 11_490),
    ] {
        let share: PartsPerMillion = s.parse().unwrap();
        let raw = percent(s).raw_for(mm(need)).unwrap();
        assert_eq!(tenth_mm(raw), tenths, "{s}");
        let trap = need * 1_000 + need * share.get() / 1_000;
        assert_eq!(raw.get() - trap, trap_short, "{s}");
    }
    // a-12, computed: growth needs less: 3.00 / 1.012.
    assert_eq!(Ratio::new(500, 506).unwrap().raw_for(mm(3_000)).unwrap().get(), 2_964_427);
}

#[test]
fn a_width_shrinks_the_same_way() {
    // a-7, patternreview.com tip 1810: 60 in with −10 % is 54 in = 1371.6 mm.
    let width: Micrometres = "60in".parse().unwrap();
    assert_eq!(percent("10%").washed_from(width).unwrap().get(), 1_371_600);
    // a-11, feltwest.org.au "Shrinkage part 4": 300 → 165 mm, 600 mm wanted: 1090.9 (the page rounds to 1080).
    assert_eq!(tenth_mm(Ratio::new(300, 165).unwrap().raw_for(mm(600)).unwrap()), 10_909);
}

#[test]
fn several_washes_multiply() {
    // a-8, computed: −6 % then −1 % is −6.94 %, not −7 %.
    let two = percent("6%").then(percent("1%"));
    assert_eq!(two.shrinkage_ppm().get(), 69_400);
    // a-9, computed: −5 %, −1.5 %, −0.5 % is −6.893 % (6.8929…).
    let three = percent("5%").then(percent("1.5%")).then(percent("0.5%"));
    assert_eq!(three.shrinkage_ppm().to_string(), "6.89 %");
    assert_eq!(three, Ratio::new(100_000_000, 95 * 985 * 995).unwrap());
    assert_eq!(three.shrinkage_ppm().get(), 68_929);
}

#[test]
fn a_workshop_test_gives_exact_ratios_both_ways() {
    let test = workshop_test();
    let (length, _) = test.ratio(Direction::Lengthwise, 1).unwrap();
    let (width, _) = test.ratio(Direction::Crosswise, 1).unwrap();
    assert_eq!((length, width), (Ratio::new(350, 334).unwrap(), Ratio::new(350, 345).unwrap()));
    assert_eq!((length.change_text(), width.change_text()), ("-4.6 %".into(), "-1.4 %".into()));
    assert_eq!(length.shrinkage_ppm().to_string(), "4.57 %");
    assert_eq!(width.shrinkage_ppm().to_string(), "1.43 %");
    // Computed: area factor 0.9406 (0.94065… rounded down); 3.00 m wanted → 3.1437 m; 150 cm → 147.86 cm.
    assert_eq!(length.then(width).factor_text(), "0.9406");
    assert_eq!(tenth_mm(length.raw_for(mm(3_000)).unwrap()), 31_437);
    assert_eq!(tenth_mm(width.washed_from(mm(1_500)).unwrap()), 14_786);
}

#[test]
fn cycles_are_cumulative_and_the_last_one_stands_in_for_more() {
    let cycles = vec![marks(&[334, 335, 333], &[]), marks(&[332, 333, 331], &[])];
    let test = WashTest::new(Preparation::Washed { times: 2 }, marks(&[350; 3], &[]), cycles).unwrap();
    let at = |washes| test.ratio(Direction::Lengthwise, washes).unwrap();
    assert_eq!(at(1), (Ratio::new(350, 334).unwrap(), 1));
    assert_eq!(at(2), (Ratio::new(350, 332).unwrap(), 2));
    assert_eq!(at(5), (Ratio::new(350, 332).unwrap(), 2));
    assert_eq!(at(0), (Ratio::UNCHANGED, 0));
}

#[test]
fn impossible_shrinkage_and_absurd_growth_are_refused() {
    let from = |text: &str| Ratio::from_ppm(text.parse().unwrap());
    assert!(matches!(from("100%"), Err(ShrinkageError::NothingLeft { .. })));
    assert!(from("99.9999%").is_ok());
    assert!(matches!(Ratio::new(350, 0), Err(ShrinkageError::ZeroReading)));
    assert!(from("-20%").unwrap().check_plausible(false).is_ok());
    let wild = from("-20.0001%").unwrap();
    assert!(matches!(wild.check_plausible(false), Err(ShrinkageError::Implausible { .. })));
    assert!(wild.check_plausible(true).is_ok());
}

#[test]
fn a_wash_test_with_holes_is_refused_each_in_its_own_way() {
    let test = |before, cycles| WashTest::new(WASHED, before, cycles).unwrap_err();
    assert_eq!(test(marks(&[350], &[]), vec![]), ShrinkageError::NoCycles);
    assert_eq!(test(marks(&[], &[]), vec![marks(&[], &[])]), ShrinkageError::NoReadings);
    let unequal = test(marks(&[350, 350], &[]), vec![marks(&[340, 341], &[]), marks(&[340], &[])]);
    let direction = Direction::Lengthwise;
    assert_eq!(unequal, ShrinkageError::UnequalCounts { direction, cycle: 2, before: 2, after: 1 });
    assert_eq!(test(marks(&[350], &[]), vec![marks(&[0], &[])]), ShrinkageError::ZeroReading);
    assert_eq!(test(marks(&[0], &[]), vec![marks(&[340], &[])]), ShrinkageError::ZeroReading);
    let four = test(marks(&[350; 4], &[]), vec![marks(&[340; 4], &[])]);
    assert!(matches!(four, ShrinkageError::TooMany { found: 4, most: 3, .. }));
    let nothing = WashTest::new(Preparation::None, marks(&[350], &[]), vec![marks(&[340], &[])]);
    assert_eq!(nothing, Err(ShrinkageError::NothingTested));
}

#[test]
fn a_preparation_is_written_as_people_write_it() {
    for (text, preparation) in [
        ("none", Preparation::None),
        ("washed", WASHED),
        ("washed x1", WASHED),
        ("Washed x3", Preparation::Washed { times: 3 }),
        ("washed ×3", Preparation::Washed { times: 3 }),
        ("steamed", Preparation::Steamed),
    ] {
        assert_eq!(text.parse(), Ok(preparation), "{text}");
        assert_eq!(preparation.to_string().parse(), Ok(preparation));
    }
    for text in ["", "unknown", "washed x0", "washed x256", "washed 3", "washed x+3"] {
        assert!(text.parse::<Preparation>().is_err(), "{text}");
    }
}

fn cloth(fibres: &[FibreShare]) -> Candidates<'_> {
    let stated = Stated::default();
    Candidates { preparation: WASHED, tests: &[], pinned: None, stated, fibres, construction: None }
}

#[test]
fn the_latest_test_comes_before_the_stated_before_the_typical_value() {
    let linen = parse_shares("linen").unwrap();
    let older = WashTest::new(WASHED, marks(&[350], &[]), vec![marks(&[340], &[])]).unwrap();
    let tests = [(1, older), (2, workshop_test())];
    let share = |text: &str| Some(text.parse::<PartsPerMillion>().unwrap());
    let stated = Stated { length: share("3%"), width: share("2%") };

    let chosen = choose(&Candidates { tests: &tests, stated, ..cloth(&linen) }).unwrap();
    assert_eq!((chosen.length, chosen.certainty), (Ratio::new(350, 334).unwrap(), Certainty::Measured));
    assert_eq!((chosen.width, chosen.width_certainty), (Ratio::new(350, 345).ok(), Certainty::Measured));

    assert_eq!(chosen.source, "wash test 2, washed");

    let pinned = choose(&Candidates { tests: &tests, pinned: Some(1), stated, ..cloth(&linen) }).unwrap();
    assert_eq!(pinned.source, "wash test 1, washed");
    assert_eq!(pinned.length, Ratio::new(350, 340).unwrap());
    // The pinned test has no crosswise readings: the stated width counts, and is called stated.
    assert_eq!((pinned.width, pinned.width_certainty), (Some(percent("2%")), Certainty::Stated));

    let chosen = choose(&Candidates { stated, ..cloth(&linen) }).unwrap();
    assert_eq!(
        (chosen.length, chosen.certainty, chosen.kind),
        (percent("3%"), Certainty::Stated, Source::Stated)
    );

    let chosen = choose(&cloth(&linen)).unwrap();
    assert_eq!((chosen.length, chosen.certainty), (percent("6%"), Certainty::Estimated));
    assert_eq!((chosen.width, chosen.width_certainty), (None, Certainty::Unknown));
    assert!(chosen.source.contains("18thcstockholm"), "{}", chosen.source);

    let error = choose(&cloth(&[])).unwrap_err();
    assert_eq!(error, ShrinkageError::Unknown { preparation: WASHED });
}

#[test]
fn a_test_counts_only_for_its_preparation_and_is_an_estimate_for_more_washes() {
    let tests = [(1, workshop_test())];
    let none = parse_shares("cotton").unwrap();
    let chosen = |preparation| choose(&Candidates { preparation, tests: &tests, ..cloth(&none) });
    let more = chosen(Preparation::Washed { times: 3 }).unwrap();
    assert_eq!((more.length, more.certainty), (Ratio::new(350, 334).unwrap(), Certainty::Estimated));
    assert_eq!(more.source, "wash test 1, 1 of 3 washes tested");
    // 350 → 320 mm read after three washes: measured for three, an estimate for one; two more may shrink it further.
    let thrice = Preparation::Washed { times: 3 };
    let read = WashTest::new(thrice, marks(&[350], &[]), vec![marks(&[320], &[])]).unwrap();
    let after = |times| {
        let (preparation, tests) = (Preparation::Washed { times }, &[(1, read.clone())]);
        let chosen = choose(&Candidates { preparation, tests, ..cloth(&none) }).unwrap();
        assert_eq!(chosen.length, Ratio::new(350, 320).unwrap());
        (chosen.certainty, chosen.source)
    };
    assert_eq!(after(3), (Certainty::Measured, "wash test 1, washed x3".to_owned()));
    assert_eq!(after(1), (Certainty::Estimated, "wash test 1, read after 3 washes only".to_owned()));
    assert_eq!(after(5), (Certainty::Estimated, "wash test 1, 3 of 5 washes tested".to_owned()));
    // Steamed cotton: the wash test says nothing, and no relaxation figure is known.
    assert!(matches!(chosen(Preparation::Steamed), Err(ShrinkageError::Unknown { .. })));
    // Cut as it is: a decision, not "unknown".
    let raw = chosen(Preparation::None).unwrap();
    assert_eq!(
        (raw.length, raw.width, raw.kind),
        (Ratio::UNCHANGED, Some(Ratio::UNCHANGED), Source::NoPreparation)
    );
    // A pinned test counts for what it tested, and says nothing of steaming.
    let preparation = Preparation::Steamed;
    let pinned = choose(&Candidates { preparation, tests: &tests, pinned: Some(1), ..cloth(&none) });
    assert!(matches!(pinned, Err(ShrinkageError::Unknown { .. })));
}

#[test]
fn typical_values_are_the_high_end_and_name_their_source() {
    let of = |fibre, construction| typical(fibre, construction, WASHED).map(|t| (t.length, t.width));
    // modacrylic-xf.com 12 Jun 2018; 18thcstockholm.blogspot.com 28 Sep 2017; kembrel.com; denimhunters.com;
    // loomstate cotton, wool and the viscose width are from memory.
    assert_eq!(of("silk", None), Some((percent("10%"), Some(percent("3%")))));
    assert_eq!(of("linen", None), of("flax", None));
    assert_eq!(of("Linen", None), Some((percent("6%"), None)));
    assert_eq!(of("linen", Some("canvas")), Some((percent("4%"), Some(percent("2%")))));
    assert_eq!(of("rayon", None), Some((percent("10%"), Some(percent("6%")))));
    assert_eq!(of("cotton", None), Some((percent("12%"), Some(percent("5%")))));
    assert_eq!(of("cotton", Some("denim")), Some((percent("10%"), None)));
    assert_eq!(of("cotton", Some("jersey knit")), Some((percent("3%"), Some(percent("3%")))));
    assert_eq!(of("cotton", Some("gauze")), of("cotton", None));
    // Felting is left out: a machine wash of wool is not planned.
    assert_eq!(of("wool", None), Some((percent("4%"), Some(percent("3%")))));
    assert_eq!(typical("wool", None, Preparation::Steamed).unwrap().length, percent("4%"));
    assert_eq!(typical("cotton", None, Preparation::Steamed), None);
    assert_eq!(of("kapok", None), None);
    assert_eq!(of("no such fibre", None), None);
}

#[test]
fn a_blend_shrinks_like_the_worst_of_its_main_fibres() {
    let blend = |text| typical_of_blend(&parse_shares(text).unwrap(), None, WASHED);
    let found = blend("polyester 80%, viscose 20%").unwrap();
    assert_eq!(found.length, percent("10%"));
    assert!(found.source.contains("blend"), "{}", found.source);
    // Below 20 % a fibre does not count.
    assert_eq!(blend("polyester 80.1%, viscose 19.9%").unwrap().length, percent("1%"));
    // Trade page meyijeans.com: stretch denim gives way crosswise.
    assert_eq!(blend("cotton 97%, elastane 3%").unwrap().width, Some(percent("12%")));
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
