//! Which figure counts: the latest test, what was stated, or the typical value.

use super::{WASHED, cloth, marks, percent, readings, workshop_test};
use ellwand_domain::{
    certainty::Certainty,
    cloth::parse_shares,
    quantity::PartsPerMillion,
    shrinkage::{
        Candidates, Preparation, Ratio, ShrinkageError, Source, Stated, WashTest, choose, step,
    },
};

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
    assert!(said.source.contains("covers all washes"), "{}", said.source);
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
