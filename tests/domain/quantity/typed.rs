//! Lengths, masses, counts and shares as people type them.

use super::length;
use ellwand_domain::quantity::{
    Count, Micrometres, Milligrams, MilligramsPerM2, Minutes, PartsPerMillion, QuantityError, Tex,
    parse::{parse_length_down, parse_length_up, parse_mass_per_area},
};

#[test]
fn a_length_is_read_in_every_way_people_write_it() {
    // 1 yd = 0.9144 m and 1 in = 25.4 mm by definition.
    for (text, um) in [
        ("2.5m", 2_500_000),
        ("2,5 m", 2_500_000),
        ("2.5 M", 2_500_000),
        ("250cm", 2_500_000),
        ("35mm", 35_000),
        ("2 3/4 yd", 2_514_600),
        ("2-3/4yd", 2_514_600),
        ("2½ yd", 2_286_000),
        ("½yd", 457_200),
        ("1⁄2 yd", 457_200),
        ("60in", 1_524_000),
        ("60\"", 1_524_000),
        ("60 in.", 1_524_000),
        ("2ft", 609_600),
        ("5'6\"", 1_676_400),
        ("2 m 30 cm", 2_300_000),
        ("2m30cm", 2_300_000),
        ("1 yd 4 1/2 in", 1_028_700),
        ("10 000 km", 10_000_000_000_000),
        ("1 500 m", 1_500_000_000),
        ("1.234 m", 1_234_000),
        ("0,125 m", 125_000),
        (".5 m", 500_000),
        ("1,234.5 m", 1_234_500_000),
        ("1.234,5 m", 1_234_500_000),
        ("1,234,567 mm", 1_234_567_000),
        ("7 µm", 7),
        ("0m", 0),
    ] {
        assert_eq!(length(text), um, "{text}");
    }
}

#[test]
fn a_ligne_is_a_fortieth_of_an_inch() {
    // g-1 … g-3, sizes.com: 32 L = 20.32 mm, 24 L = 15.24 mm, 20 L = 12.70 mm = 1/2 in.
    assert_eq!(length("32L"), 20_320);
    assert_eq!(length("24 L"), 15_240);
    assert_eq!(length("20 ligne"), 12_700);
    assert_eq!(length("20L"), length("1/2 in"));
    assert_eq!(length("18L"), 11_430);
}

#[test]
fn a_fraction_finer_than_a_micrometre_goes_up_for_needs_and_down_for_stock() {
    assert_eq!(parse_length_up("1/7 m").unwrap().get(), 142_858);
    assert_eq!(parse_length_down("1/7 m").unwrap().get(), 142_857);
    assert_eq!(parse_length_up("0.0000001 m").unwrap().get(), 1);
    // Terms are added before the one rounding: 1/3 mm + 2/3 mm is 1 mm.
    assert_eq!(parse_length_up("1/3 mm 2/3 mm").unwrap().get(), 1_000);
}

#[test]
fn a_number_without_a_unit_is_refused_with_an_example() {
    let error = "2.4".parse::<Micrometres>().unwrap_err();
    assert_eq!(error.to_string(), "\"2.4\" needs a unit, for example 2.4m");
    let missing = |error| matches!(error, QuantityError::MissingUnit { .. });
    assert!(missing("2m30".parse::<Micrometres>().unwrap_err()));
    assert!(missing("1½2 m".parse::<Micrometres>().unwrap_err()));
    assert!(missing("3".parse::<Milligrams>().unwrap_err()));
    assert!(missing("270".parse::<MilligramsPerM2>().unwrap_err()));
    assert!(missing("90".parse::<Minutes>().unwrap_err()));
    assert!(missing("5".parse::<PartsPerMillion>().unwrap_err()));
    assert!(missing("30".parse::<Tex>().unwrap_err()));
}

#[test]
fn unreadable_negative_and_absurd_lengths_are_refused_each_in_its_own_way() {
    for text in [
        "",
        "m",
        "2.5.1m",
        "2 1/0 yd",
        "2.5 1/2 m",
        "2. m",
        "two m",
        "2 parsec",
        "1,23,456 m",
        "--2m",
    ] {
        let error = text.parse::<Micrometres>().unwrap_err();
        let expected = if text == "--2m" {
            matches!(error, QuantityError::Negative { .. })
        } else {
            matches!(error, QuantityError::Unreadable { .. })
        };
        assert!(expected, "{text}: {error}");
    }
    for text in ["-2m", "−2 m", "2 m -3 cm"] {
        assert!(
            matches!(
                text.parse::<Micrometres>(),
                Err(QuantityError::Negative { .. })
            ),
            "{text}"
        );
    }
    let ambiguous = "1,234 m".parse::<Micrometres>().unwrap_err().to_string();
    assert!(
        ambiguous.contains("one way only") && ambiguous.contains("1.234 or 1234"),
        "{ambiguous}"
    );
    for text in [
        "10 000.000001 km",
        "10000001000 mm",
        "9999999999999999999999 m",
        "999999999999999 yd",
    ] {
        assert!(text.parse::<Micrometres>().is_err(), "{text}");
    }
    assert!(matches!(
        "10000001 m".parse::<Micrometres>(),
        Err(QuantityError::TooLarge { .. })
    ));
    assert_eq!(length("10000000 m"), Micrometres::MAX.get());
}

#[test]
fn masses_round_down_to_the_milligram() {
    // 1 oz = 28.349523125 g, 1 lb = 453.59237 g by definition.
    for (text, mg) in [
        ("25kg", 25_000_000),
        ("8 oz", 226_796),
        ("1lb", 453_592),
        ("1 lb 4 oz", 566_990),
        ("7.5 g", 7_500),
        ("3mg", 3),
        ("100t", 100_000_000_000),
    ] {
        assert_eq!(text.parse::<Milligrams>().unwrap().get(), mg, "{text}");
    }
    assert!(
        "3Mg".parse::<Milligrams>().is_err(),
        "a megagram is not a milligram"
    );
    assert!(matches!(
        "100.001 t".parse::<Milligrams>(),
        Err(QuantityError::TooLarge { .. })
    ));
}

#[test]
fn mass_per_area_is_read_from_metric_imperial_and_silk_units() {
    // 1 oz/yd² = 33.9057 g/m² from the exact factors; momme by its second definition in GNU units: c-5 12 → 52.08,
    // c-6 19 → 82.46, c-7 8 → 34.72 g/m² (apparelsearch.com prints 4.340 for one).
    for (text, mg) in [
        ("270gsm", 270_000),
        ("270 g/m2", 270_000),
        ("270g/m²", 270_000),
        ("270 GSM", 270_000),
        ("1oz/yd2", 33_906),
        ("8 oz/yd²", 271_246),
        ("12momme", 52_079),
        ("19 momme", 82_459),
        ("8 momme", 34_719),
    ] {
        assert_eq!(text.parse::<MilligramsPerM2>().unwrap().get(), mg, "{text}");
    }
}

#[test]
fn mass_per_running_length_needs_the_full_width() {
    // c-2, undershirtguy.com: 7 oz per linear yard at 68 in is 125.65 g/m².
    let at = |text, width: &str| {
        parse_mass_per_area(text, Some(width.parse().unwrap()))
            .unwrap()
            .get()
    };
    assert_eq!(at("7oz/yd", "68in"), 125_651);
    assert_eq!(at("7 oz/linear yd", "68in"), 125_651);
    // c-3 turned round, onlineclothingstudy.com 2019: 335.28 g/m at 1.524 m is 220 g/m².
    assert_eq!(at("335.28g/m", "1.524m"), 220_000);
    // c-11, derived from an anecdote at fashion-incubator.com: 14 oz per linear yard at 42 in is 12 oz/yd².
    assert_eq!(
        at("14oz/yd", "42in"),
        "12oz/yd2".parse::<MilligramsPerM2>().unwrap().get()
    );
    let error = "14oz/yd"
        .parse::<MilligramsPerM2>()
        .unwrap_err()
        .to_string();
    assert!(error.contains("full width"), "{error}");
    assert!(parse_mass_per_area("14oz/yd", Some(Micrometres::ZERO)).is_err());
    assert!(
        "14oz".parse::<MilligramsPerM2>().is_err(),
        "ounces alone may be per yard or per square yard"
    );
}

#[test]
fn counts_and_minutes() {
    for (text, n) in [("6", 6), ("6 pcs", 6), ("1 piece", 1), ("2.0", 2), ("0", 0)] {
        assert_eq!(text.parse::<Count>().unwrap().get(), n, "{text}");
    }
    for text in ["6.5", "1/2", "-6", "six", "6 m", "6 6"] {
        assert!(text.parse::<Count>().is_err(), "{text}");
    }
    for (text, n) in [
        ("2h30", 150),
        ("2h 30min", 150),
        ("150min", 150),
        ("2.5h", 150),
        ("2 1/2 h", 150),
        ("9h", 540),
        ("1h30m", 90),
        ("20 s", -1),
        ("30 2h", -1),
        ("2h30 15", -1),
        ("1/120 h", 1),
    ] {
        assert_eq!(
            text.parse::<Minutes>().map_or(-1, Minutes::get),
            n,
            "{text}"
        );
    }
    assert_eq!(Minutes::new(630).unwrap().to_string(), "10 h 30 min");
    assert_eq!(Minutes::new(540).unwrap().to_string(), "9 h");
    assert_eq!(Minutes::new(45).unwrap().to_string(), "45 min");
}

#[test]
fn percentages_are_signed_and_round_towards_more_cloth() {
    for (text, ppm) in [
        ("5%", 50_000),
        ("4.5 %", 45_000),
        ("4,5%", 45_000),
        ("-2.5%", -25_000),
        ("−2.5 %", -25_000),
        ("+1.2%", 12_000),
        ("1/3 %", 3_334),
        ("-1/3 %", -3_333),
    ] {
        assert_eq!(
            text.parse::<PartsPerMillion>().unwrap().get(),
            ppm,
            "{text}"
        );
    }
    let show = |ppm| PartsPerMillion::new(ppm).unwrap().to_string();
    assert_eq!(show(50_000), "5 %");
    assert_eq!(show(45_715), "4.57 %");
    assert_eq!(show(-25_000), "-2.5 %");
    assert_eq!(PartsPerMillion::new(45_715).unwrap().decimal(), "4.5715");
    assert!("--5%".parse::<PartsPerMillion>().is_err());
    assert!("100001%".parse::<PartsPerMillion>().is_err());
}
