//! Shrinkage: ISO 5077's change, the length before from the length after, wash tests, and which source counts.

use ellwand_domain::{
    certainty::Certainty,
    cloth::{FibreShare, parse_shares},
    quantity::{Micrometres, PartsPerMillion},
    shrinkage::{
        Candidates, Direction, Marks, Preparation, Ratio, ShrinkageError, Source, Stated, WashTest,
        choose, step, typical, typical_of_blend,
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
    let um = |readings: &[i64]| {
        readings
            .iter()
            .map(|mm| Micrometres::from_mm(*mm))
            .collect()
    };
    Marks {
        lengthwise: um(lengthwise),
        crosswise: um(crosswise),
    }
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
    let test = WashTest::new(
        WASHED,
        marks(&[350; 3], &[]),
        vec![marks(&[339, 340, 341], &[])],
    )
    .unwrap();
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
    assert_eq!(
        Ratio::new(500, 506)
            .unwrap()
            .raw_for(mm(3_000))
            .unwrap()
            .get(),
        2_964_427
    );
}

#[test]
fn a_width_shrinks_the_same_way() {
    // a-7, patternreview.com tip 1810: 60 in with −10 % is 54 in = 1371.6 mm.
    let width: Micrometres = "60in".parse().unwrap();
    assert_eq!(percent("10%").washed_from(width).unwrap().get(), 1_371_600);
    // a-11, feltwest.org.au "Shrinkage part 4": 300 → 165 mm, 600 mm wanted: 1090.9 (the page rounds to 1080).
    assert_eq!(
        tenth_mm(Ratio::new(300, 165).unwrap().raw_for(mm(600)).unwrap()),
        10_909
    );
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
fn impossible_shrinkage_is_refused() {
    let from = |text: &str| Ratio::from_ppm(text.parse().unwrap());
    assert!(matches!(
        from("100%"),
        Err(ShrinkageError::NothingLeft { .. })
    ));
    assert!(from("99.9999%").is_ok());
    assert!(matches!(
        Ratio::new(350, 0),
        Err(ShrinkageError::ZeroReading)
    ));
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
    for text in [
        "",
        "unknown",
        "washed x0",
        "washed x256",
        "washed 3",
        "washed x+3",
    ] {
        assert!(text.parse::<Preparation>().is_err(), "{text}");
    }
}

fn cloth(fibres: &[FibreShare]) -> Candidates<'_> {
    let stated = Stated::default();
    Candidates {
        preparation: WASHED,
        tests: &[],
        pinned: None,
        stated,
        fibres,
        construction: None,
    }
}

#[test]
fn the_latest_test_comes_before_the_stated_before_the_typical_value() {
    let linen = parse_shares("linen").unwrap();
    let older = WashTest::new(WASHED, marks(&[350], &[]), vec![marks(&[340], &[])]).unwrap();
    let tests = [(1, older), (2, workshop_test())];
    let share = |text: &str| Some(text.parse::<PartsPerMillion>().unwrap());
    let stated = Stated {
        length: share("3%"),
        width: share("2%"),
    };

    let chosen = choose(&Candidates {
        tests: &tests,
        stated,
        ..cloth(&linen)
    })
    .unwrap();
    assert_eq!(
        (chosen.length, chosen.certainty),
        (Ratio::new(350, 334).unwrap(), Certainty::Measured)
    );
    assert_eq!(
        (chosen.width, chosen.width_certainty),
        (Ratio::new(350, 345).ok(), Certainty::Measured)
    );

    assert_eq!(chosen.source, "wash test 2, washed");

    let pinned = choose(&Candidates {
        tests: &tests,
        pinned: Some(1),
        stated,
        ..cloth(&linen)
    })
    .unwrap();
    assert_eq!(pinned.source, "wash test 1, washed");
    assert_eq!(pinned.length, Ratio::new(350, 340).unwrap());
    // The pinned test has no crosswise readings: the stated width counts, and is called stated.
    assert_eq!(
        (pinned.width, pinned.width_certainty),
        (Some(percent("2%")), Certainty::Stated)
    );

    let chosen = choose(&Candidates {
        stated,
        ..cloth(&linen)
    })
    .unwrap();
    assert_eq!(
        (chosen.length, chosen.certainty, chosen.kind),
        (percent("3%"), Certainty::Stated, Source::Stated)
    );

    let chosen = choose(&cloth(&linen)).unwrap();
    assert_eq!(
        (chosen.length, chosen.certainty),
        (percent("6%"), Certainty::Estimated)
    );
    assert_eq!(
        (chosen.width, chosen.width_certainty),
        (None, Certainty::Unknown)
    );
    assert!(
        chosen.source.contains("18thcstockholm"),
        "{}",
        chosen.source
    );

    let error = choose(&cloth(&[])).unwrap_err();
    assert_eq!(
        error,
        ShrinkageError::Unknown {
            preparation: WASHED
        }
    );
}

#[test]
fn a_test_counts_only_for_its_preparation_and_is_an_estimate_for_more_washes() {
    let tests = [(1, workshop_test())];
    let none = parse_shares("cotton").unwrap();
    let chosen = |preparation| {
        choose(&Candidates {
            preparation,
            tests: &tests,
            ..cloth(&none)
        })
    };
    let more = chosen(Preparation::Washed { times: 3 }).unwrap();
    assert_eq!(
        (more.length, more.certainty),
        (Ratio::new(350, 334).unwrap(), Certainty::Estimated)
    );
    assert_eq!(more.source, "wash test 1, 1 of 3 washes tested");
    // 350 → 320 mm read after three washes: measured for three, an estimate for one; two more may shrink it further.
    let thrice = Preparation::Washed { times: 3 };
    let read = WashTest::new(thrice, marks(&[350], &[]), vec![marks(&[320], &[])]).unwrap();
    let after = |times| {
        let (preparation, tests) = (Preparation::Washed { times }, &[(1, read.clone())]);
        let chosen = choose(&Candidates {
            preparation,
            tests,
            ..cloth(&none)
        })
        .unwrap();
        assert_eq!(chosen.length, Ratio::new(350, 320).unwrap());
        (chosen.certainty, chosen.source)
    };
    assert_eq!(
        after(3),
        (Certainty::Measured, "wash test 1, washed x3".to_owned())
    );
    assert_eq!(
        after(1),
        (
            Certainty::Estimated,
            "wash test 1, read after 3 washes only".to_owned()
        )
    );
    assert_eq!(
        after(5),
        (
            Certainty::Estimated,
            "wash test 1, 3 of 5 washes tested".to_owned()
        )
    );
    // Steamed cotton: the wash test says nothing, and no relaxation figure is known.
    assert!(matches!(
        chosen(Preparation::Steamed),
        Err(ShrinkageError::Unknown { .. })
    ));
    // Cut as it is: a decision, not "unknown".
    let raw = chosen(Preparation::None).unwrap();
    assert_eq!(
        (raw.length, raw.width, raw.kind),
        (
            Ratio::UNCHANGED,
            Some(Ratio::UNCHANGED),
            Source::NoPreparation
        )
    );
    // A pinned test counts for what it tested, and says nothing of steaming.
    let preparation = Preparation::Steamed;
    let pinned = choose(&Candidates {
        preparation,
        tests: &tests,
        pinned: Some(1),
        ..cloth(&none)
    });
    assert!(matches!(pinned, Err(ShrinkageError::Unknown { .. })));
}

fn readings(times: u8, lengthwise: &[i64], crosswise: &[i64]) -> WashTest {
    let one = |mm: Option<&i64>| {
        mm.map(|um| Micrometres::new(*um).unwrap())
            .into_iter()
            .collect()
    };
    let at = |index: usize| Marks {
        lengthwise: one(lengthwise.get(index)),
        crosswise: one(crosswise.get(index)),
    };
    let most = lengthwise.len().max(crosswise.len());
    WashTest::new(
        Preparation::Washed { times },
        at(0),
        (1..most).map(at).collect(),
    )
    .unwrap()
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

#[test]
fn a_figure_for_all_washes_leaves_nothing_for_the_next() {
    let (linen, wool) = (
        parse_shares("linen").unwrap(),
        parse_shares("wool 80%, polyamide 20%").unwrap(),
    );
    let share = |text: &str| Some(text.parse::<PartsPerMillion>().unwrap());
    let stated = Stated {
        length: share("4%"),
        width: share("2%"),
    };
    let preparation = Preparation::Washed { times: 2 };
    let next = |fibres, stated| {
        step(
            &Candidates {
                preparation,
                stated,
                ..cloth(fibres)
            },
            1,
        )
    };
    let said = next(&linen, stated).unwrap();
    assert_eq!(
        (said.length, said.width),
        (Ratio::UNCHANGED, Some(Ratio::UNCHANGED))
    );
    assert!(
        said.source.contains("counts for all washes"),
        "{}",
        said.source
    );
    assert_eq!(
        next(&linen, Stated::default()).unwrap().length,
        Ratio::UNCHANGED
    );
    // Hair felts on: nobody knows but a measure.
    assert_eq!(
        next(&wool, stated),
        Err(ShrinkageError::UnknownStep { preparation })
    );
    let once = [(1, workshop_test())];
    let tested = step(
        &Candidates {
            preparation,
            tests: &once,
            ..cloth(&wool)
        },
        1,
    );
    assert_eq!(tested, Err(ShrinkageError::UnknownStep { preparation }));
    // Steamed cloth of a stated relaxation is steamed again.
    let again = Candidates {
        preparation: Preparation::Steamed,
        stated,
        ..cloth(&linen)
    };
    assert_eq!(step(&again, 1).unwrap().length, Ratio::UNCHANGED);
}

#[test]
fn the_test_with_a_reading_at_that_wash_counts_before_a_later_one() {
    let thrice = readings(3, &[350_000, 335_000, 330_000, 325_000], &[]);
    let once = readings(1, &[350_000, 340_000], &[]);
    let five = readings(
        5,
        &[400_000, 390_000, 385_000, 380_000, 375_000, 370_000],
        &[],
    );
    let of = |times, tests: &[(i64, WashTest)]| {
        let chosen = choose(&Candidates {
            preparation: Preparation::Washed { times },
            tests,
            ..cloth(&[])
        });
        let chosen = chosen.unwrap();
        (chosen.length, chosen.certainty, chosen.source)
    };
    let tests = [(1, thrice.clone()), (2, once.clone())];
    let (length, certainty, source) = of(3, &tests);
    assert_eq!(
        (length, certainty),
        (Ratio::new(350, 325).unwrap(), Certainty::Measured)
    );
    assert_eq!(source, "wash test 1, washed x3");
    // Both were read after one wash: the later one.
    assert_eq!(of(1, &tests).2, "wash test 2, washed");
    // A test of five has its third.
    let tests = [(1, thrice.clone()), (2, five), (3, once)];
    assert_eq!(
        (of(3, &tests).0, of(3, &tests).2),
        (
            Ratio::new(400, 380).unwrap(),
            "wash test 2, washed x3".into()
        )
    );
    // None has the seventh: the one that reaches furthest, said.
    assert_eq!(of(7, &tests).2, "wash test 2, 5 of 7 washes tested");
    // Of equals the latest.
    assert_eq!(
        of(4, &[(1, thrice.clone()), (2, thrice)]).2,
        "wash test 2, 3 of 4 washes tested"
    );
}

#[test]
fn each_direction_says_how_well_it_is_known() {
    let wool = parse_shares("wool").unwrap();
    let lengthwise = [(1, readings(1, &[350_000, 345_000], &[]))];
    let chosen = choose(&Candidates {
        tests: &lengthwise,
        ..cloth(&wool)
    })
    .unwrap();
    assert_eq!(
        (chosen.certainty, chosen.width_certainty),
        (Certainty::Measured, Certainty::Estimated)
    );
    assert_eq!(chosen.weaker(), Certainty::Estimated);
    let text = chosen.to_string();
    assert!(
        text.starts_with(
            "1.43 % lengthwise, measured (wash test 1, washed); 3 % crosswise, estimated ("
        ),
        "{text}"
    );
    let both = [(1, workshop_test())];
    let chosen = choose(&Candidates {
        tests: &both,
        ..cloth(&wool)
    })
    .unwrap();
    assert_eq!(
        chosen.to_string(),
        "4.57 % lengthwise, 1.43 % crosswise, measured (wash test 1, washed)"
    );
    // A blend names the fibre that its width is from.
    let blend = parse_shares("flax 55%, cotton 45%").unwrap();
    let text = choose(&cloth(&blend)).unwrap().to_string();
    assert!(
        text.contains("6 % lengthwise, estimated (typical high end for")
            && text.contains("crosswise, estimated"),
        "{text}"
    );
}

#[test]
fn typical_values_are_the_high_end_and_name_their_source() {
    let of =
        |fibre, construction| typical(fibre, construction, WASHED).map(|t| (t.length, t.width));
    // modacrylic-xf.com 12 Jun 2018; 18thcstockholm.blogspot.com 28 Sep 2017; kembrel.com; denimhunters.com;
    // loomstate cotton, wool and the viscose width are from memory.
    assert_eq!(
        of("silk", None),
        Some((percent("10%"), Some(percent("3%"))))
    );
    assert_eq!(of("linen", None), of("flax", None));
    assert_eq!(of("Linen", None), Some((percent("6%"), None)));
    assert_eq!(
        of("linen", Some("canvas")),
        Some((percent("4%"), Some(percent("2%"))))
    );
    assert_eq!(
        of("rayon", None),
        Some((percent("10%"), Some(percent("6%"))))
    );
    // What is not said to be loomstate has the ordinary finish.
    assert_eq!(
        of("cotton", None),
        Some((percent("6%"), Some(percent("2.5%"))))
    );
    for plain in ["plain", "twill", "poplin", "plain weave", "Shirting"] {
        assert_eq!(of("cotton", Some(plain)), of("cotton", None), "{plain}");
    }
    for raw in [
        "loomstate",
        "loomstate twill",
        "greige plain",
        "loom-state poplin",
    ] {
        assert_eq!(
            of("cotton", Some(raw)),
            Some((percent("12%"), Some(percent("5%")))),
            "{raw}"
        );
    }
    assert_eq!(
        of("cotton", Some("pre-shrunk twill")),
        Some((percent("6%"), None))
    );
    // Denim by its words.
    for denim in ["denim", "loomstate denim", "raw denim, unsanforised"] {
        assert_eq!(
            of("cotton", Some(denim)),
            Some((percent("10%"), None)),
            "{denim}"
        );
    }
    for denim in [
        "compressive-shrunk denim",
        "denim, sanforised",
        "Denim pre shrunk",
    ] {
        assert_eq!(
            of("cotton", Some(denim)),
            Some((percent("3%"), None)),
            "{denim}"
        );
    }
    let bare = typical("cotton", Some("denim"), WASHED).unwrap().source;
    assert!(bare.contains("no compressive shrinking is said"), "{bare}");
    // Knits take no woven's figure, woven cloth none of a knit, felt and fleece neither.
    for (fibre, construction) in [
        ("wool", "felt"),
        ("wool", "boiled"),
        ("wool", "jersey"),
        ("polyester", "fleece"),
        ("cotton", "fleece"),
        ("cotton", "rib"),
        ("flax", "knitted"),
        ("viscose", "jersey"),
    ] {
        assert_eq!(
            of(fibre, Some(construction)),
            None,
            "{fibre} {construction}"
        );
    }
    assert_eq!(of("wool", Some("flannel")), of("wool", None));
    assert_eq!(
        of("flax", Some("close old sheeting")),
        Some((percent("2.5%"), None))
    );
    // The figure of viscose is that of one wash, which is said of more.
    let more = typical("viscose", None, Preparation::Washed { times: 2 }).unwrap();
    assert_eq!(more.length, percent("10%"));
    assert!(
        more.source.contains("worst case") && more.source.contains("of one wash only"),
        "{}",
        more.source
    );
    assert!(
        !typical("viscose", None, WASHED)
            .unwrap()
            .source
            .contains("one wash only")
    );
    assert_eq!(
        of("cotton", Some("jersey knit")),
        Some((percent("3%"), Some(percent("3%"))))
    );
    assert_eq!(of("cotton", Some("gauze")), of("cotton", None));
    // Felting is left out: a machine wash of wool is not planned.
    assert_eq!(of("wool", None), Some((percent("4%"), Some(percent("3%")))));
    assert_eq!(
        typical("wool", None, Preparation::Steamed).unwrap().length,
        percent("4%")
    );
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
    assert_eq!(
        blend("polyester 80.1%, viscose 19.9%").unwrap().length,
        percent("1%")
    );
    // What has no figure is unknown, and so is a blend with 20 % of it.
    assert_eq!(blend("acrylic 79%, wool 21%"), None);
    assert_eq!(blend("cotton 80%, acrylic 20%"), None);
    assert_eq!(
        blend("cotton 80%, acrylic 10%, polyamide 10%"),
        None,
        "together"
    );
    assert_eq!(
        blend("cotton 80.1%, acrylic 10%, polyamide 9.9%")
            .unwrap()
            .length,
        percent("6%")
    );
    // Trade page meyijeans.com: stretch denim gives way crosswise.
    assert_eq!(
        blend("cotton 97%, elastane 3%").unwrap().width,
        Some(percent("12%"))
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
