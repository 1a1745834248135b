//! Typed and printed quantities. Texts people type, limits on both sides, and random texts that must never panic.

use ellwand_domain::quantity::{
    Count, Currency, CurrencyError, HourlyRate, Micrometres, Milligrams, MilligramsPerM2,
    Millionths, Minutes, Money, MoneyError, PartsPerMillion, QuantityError, Rate, Tex, Units,
    parse::{parse_length_down, parse_length_up, parse_mass_per_area},
};
use proptest::prelude::*;

#[track_caller]
fn length(text: &str) -> i64 {
    text.parse::<Micrometres>()
        .unwrap_or_else(|e| panic!("{text}: {e}"))
        .get()
}

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

#[test]
fn currencies_have_the_digits_of_iso_4217() {
    // ISO 4217 list published 2026-01-01.
    let all = |digits: u32, codes: &str| {
        for code in codes.split(' ') {
            assert_eq!(code.parse::<Currency>().unwrap().digits(), digits, "{code}");
        }
    };
    all(
        0,
        "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
    );
    all(3, "BHD IQD JOD KWD LYD OMR TND");
    all(4, "CLF UYW");
    // Display lists show these with other digits; ISO counts.
    all(
        2,
        "EUR USD GBP AFN ALL IRR KPW LAK LBP MGA MMK RSD SOS SYP YER VES VED XCG",
    );
    assert_eq!("IQD".parse::<Currency>().unwrap().digits(), 3);
    assert_eq!("eur".parse::<Currency>().unwrap().code(), "EUR");
    for code in ["XXX", "XAU", "XTS", "XDR"] {
        assert!(
            matches!(
                code.parse::<Currency>(),
                Err(CurrencyError::NoMinorUnit { .. })
            ),
            "{code}"
        );
    }
    for code in ["", "EURO", "ABC", "€", "E R"] {
        assert!(
            matches!(code.parse::<Currency>(), Err(CurrencyError::Unknown { .. })),
            "{code}"
        );
    }
    let gone = "HRK".parse::<Currency>().unwrap_err().to_string();
    assert_eq!(gone, "HRK is no longer a currency of ISO 4217, use EUR");
}

#[test]
fn money_keeps_the_digits_of_its_currency() {
    let eur: Currency = "EUR".parse().unwrap();
    for text in [
        "12.50",
        "12,50",
        "12.5",
        "EUR 12.50",
        "12.50 EUR",
        "eur12.50",
    ] {
        assert_eq!(
            Money::parse(text, Some(eur)).unwrap(),
            Money {
                minor: 1_250,
                currency: eur
            },
            "{text}"
        );
    }
    let gbp = Money::parse("GBP 88", Some(eur)).unwrap();
    assert_eq!((gbp.minor, gbp.currency.code()), (8_800, "GBP"));
    assert_eq!(
        Money::parse("125.61", Some(eur)).unwrap().to_string(),
        "125.61 EUR"
    );
    assert_eq!(
        Money::parse_signed("-3 EUR", None).unwrap().to_string(),
        "-3.00 EUR"
    );
    assert_eq!(Money::parse_signed("EUR -3", None).unwrap().minor, -300);
    assert_eq!(
        Money::parse("100 JPY", None).unwrap().to_string(),
        "100 JPY"
    );
    assert_eq!(
        Money::parse("1.234 KWD", None)
            .unwrap()
            .to_millionths()
            .unwrap()
            .get(),
        1_234_000
    );
    assert_eq!(
        Money::parse("12.50", Some(eur))
            .unwrap()
            .to_millionths()
            .unwrap()
            .get(),
        12_500_000
    );
}

#[test]
fn money_with_the_wrong_digits_is_refused_not_rounded() {
    // d-19, common practice.
    let digits = |text: &str| match Money::parse(text, None) {
        Err(MoneyError::Quantity(QuantityError::TooManyDigits { digits, .. })) => Some(digits),
        _ => None,
    };
    assert_eq!(digits("100.5 JPY"), Some(0));
    assert_eq!(digits("1.2345 KWD"), Some(3));
    assert_eq!(digits("EUR 0.001"), Some(2));
    let refused = |text: &str| Money::parse(text, None).unwrap_err();
    assert!(matches!(
        refused("12.50"),
        MoneyError::Quantity(QuantityError::MissingUnit { .. })
    ));
    assert!(matches!(
        refused("-12.50 EUR"),
        MoneyError::Quantity(QuantityError::Negative { .. })
    ));
    assert!(matches!(
        refused("12.50 XAU"),
        MoneyError::Currency(CurrencyError::NoMinorUnit { .. })
    ));
    assert!(matches!(
        refused("12 1/2 EUR"),
        MoneyError::Quantity(QuantityError::Unreadable { .. })
    ));
    assert!(matches!(
        refused("1,234 EUR"),
        MoneyError::Quantity(QuantityError::Unreadable { .. })
    ));
    assert!(matches!(
        refused("1000000000.01 EUR"),
        MoneyError::Quantity(QuantityError::TooLarge { .. })
    ));
    assert_eq!(
        Money::parse("1000000000 EUR", None).unwrap().minor,
        100_000_000_000
    );
}

#[test]
fn rates_are_positive_and_keep_their_digits() {
    assert_eq!("1.1700".parse::<Rate>().unwrap().to_string(), "1.1700");
    assert_eq!(
        "0,0000000001".parse::<Rate>().unwrap().to_string(),
        "0.0000000001"
    );
    for text in ["0", "0.00", "-1.17"] {
        assert!(
            matches!(text.parse::<Rate>(), Err(QuantityError::NotPositive { .. })),
            "{text}"
        );
    }
    assert!(matches!(
        "0.00000000001".parse::<Rate>(),
        Err(QuantityError::TooManyDigits { digits: 10, .. })
    ));
    for text in ["1.17 EUR", "1/2", "", "rate"] {
        assert!(text.parse::<Rate>().is_err(), "{text}");
    }
    assert_eq!("24.00".parse::<HourlyRate>().unwrap().get(), 240_000);
    assert_eq!(
        "35.8696/h".parse::<HourlyRate>().unwrap().decimal(),
        "35.8696"
    );
    assert_eq!("6.5".parse::<HourlyRate>().unwrap().to_string(), "6.50/h");
    assert!(matches!(
        "24.00001".parse::<HourlyRate>(),
        Err(QuantityError::TooManyDigits { digits: 4, .. })
    ));
    assert!(matches!(
        "-24".parse::<HourlyRate>(),
        Err(QuantityError::Negative { .. })
    ));
}

#[test]
fn lengths_print_in_both_systems() {
    let m = |text: &str| text.parse::<Micrometres>().unwrap();
    assert_eq!(m("2.6m").show(Units::Metric), "2.60 m");
    assert_eq!(
        Micrometres::new(3_143_713).unwrap().show(Units::Metric),
        "3.1437 m"
    );
    assert_eq!(
        Micrometres::new(1_478_571)
            .unwrap()
            .show_width(Units::Metric),
        "147.86 cm"
    );
    assert_eq!(m("150cm").show_width(Units::Metric), "150 cm");
    assert_eq!(m("2 3/4 yd").show(Units::Imperial), "2 3/4 yd");
    assert_eq!(m("1/8 yd").show(Units::Imperial), "1/8 yd");
    assert_eq!(m("3 yd").show(Units::Imperial), "3 yd");
    assert_eq!(m("2.6m").show(Units::Imperial), "2.843 yd");
    // What is there is never shown as nothing.
    for (um, metric, width, yards) in [
        (30, "0.00003 m", "0.003 cm", "0.000033 yd"),
        (50, "0.0001 m", "0.01 cm", "0.000055 yd"),
        (0, "0.00 m", "0 cm", "0 yd"),
    ] {
        let length = Micrometres::new(um).unwrap();
        let shown = (
            length.show(Units::Metric),
            length.show_width(Units::Metric),
            length.show(Units::Imperial),
        );
        assert_eq!(shown, (metric.into(), width.into(), yards.into()));
    }
    assert_eq!(m("58 1/8 in").show_width(Units::Imperial), "58 1/8 in");
    assert_eq!(m("150cm").show_width(Units::Imperial), "59.06 in");
    assert_eq!(m("2.6m").decimal_m(), "2.60");
    assert_eq!(Micrometres::new(3_143_713).unwrap().decimal_m(), "3.143713");
    assert_eq!(Micrometres::from_decimal_m("2.6").unwrap(), m("2.6m"));
    assert!(matches!(
        Micrometres::from_decimal_m("2.6000001"),
        Err(QuantityError::TooManyDigits { digits: 6, .. })
    ));
    for text in ["", "2,6", " 2.6", "2.6m", "1e3", ".5", "2."] {
        assert!(
            matches!(
                Micrometres::from_decimal_m(text),
                Err(QuantityError::Unreadable { .. })
            ),
            "{text}"
        );
    }
}

#[test]
fn masses_print_in_both_systems() {
    let gsm = |text: &str| text.parse::<MilligramsPerM2>().unwrap();
    assert_eq!(gsm("180gsm").show(Units::Metric), "180 g/m²");
    // c-1, oureverydaylife.com: 100 g/m² is 2.95 oz/yd² (2.949).
    assert_eq!(gsm("100gsm").show(Units::Imperial), "2.95 oz/yd²");
    // c-7, apparelsearch.com: 8 momme is about 1 oz (1.024 oz/yd²).
    assert_eq!(gsm("8momme").show(Units::Imperial), "1.02 oz/yd²");
    assert_eq!(gsm("180gsm").decimal_gsm(), "180");
    assert_eq!(
        MilligramsPerM2::from_decimal_gsm("191.359").unwrap().get(),
        191_359
    );
    assert!(MilligramsPerM2::from_decimal_gsm("191.3591").is_err());
    let g = |text: &str| text.parse::<Milligrams>().unwrap();
    assert_eq!(g("350g").show(Units::Metric), "350 g");
    assert_eq!(g("27.432kg").show(Units::Metric), "27.432 kg");
    assert_eq!(
        Milligrams::new(226_796).unwrap().show(Units::Imperial),
        "8 oz"
    );
    assert_eq!(g("27.5g").decimal_g(), "27.5");
}

#[test]
fn values_print_exactly_and_rounded_half_up() {
    let value = |millionths| Millionths::new(millionths).unwrap();
    assert_eq!(value(85_943_684).decimal(), "85.943684");
    assert_eq!(value(12_500_000).decimal(), "12.50");
    assert_eq!(value(85_943_684).rounded(2), "85.94");
    assert_eq!(value(26_444_211).rounded(2), "26.44");
    // d-12, checked with Python's decimal: 0.075 → 0.08, 0.085 → 0.09, −2.345 → −2.35.
    assert_eq!(value(75_000).rounded(2), "0.08");
    assert_eq!(value(85_000).rounded(2), "0.09");
    assert_eq!(value(-2_345_000).rounded(2), "-2.35");
    // d-13: decimals, not binary floats: 1.005 → 1.01, 2.675 → 2.68.
    assert_eq!(
        Millionths::from_decimal("1.005").unwrap().rounded(2),
        "1.01"
    );
    assert_eq!(
        Millionths::from_decimal("2.675").unwrap().rounded(2),
        "2.68"
    );
    assert_eq!(value(1_500_000).rounded(0), "2");
    assert_eq!(value(85_943_684).minor(2), 8_594);
    assert_eq!(value(-1).decimal(), "-0.000001");
}

/// Texts built from the signs that readers look at, mixed with any others.
fn typed() -> impl Strategy<Value = String> {
    let part = prop_oneof![
        6 => "[0-9]{1,20}",
        4 => prop::sample::select(vec![
            ".", ",", "/", "-", "−", " ", "½", "⅞", "⁄", "m", "yd", "in", "\"", "L", "kg", "oz", "%", "h", "min", "EUR",
            "JPY", "gsm", "oz/yd", "momme", "tex", "Nm", "cotton ticket", "x", "0", "00", "\u{a0}", "µm",
        ]).prop_map(str::to_owned),
        1 => any::<char>().prop_map(String::from),
    ];
    prop::collection::vec(part, 0..9).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    #[test]
    fn no_text_makes_a_reader_panic_or_leave_its_limits(text in prop_oneof![typed(), any::<String>()]) {
        let width = Some(Micrometres::from_mm(1_500));
        let eur = "EUR".parse::<Currency>().ok();
        if let (Ok(up), Ok(down)) = (parse_length_up(&text), parse_length_down(&text)) {
            prop_assert!(up.get() - down.get() <= 1 && up <= Micrometres::MAX);
        }
        if let Ok(mass) = text.parse::<Milligrams>() { prop_assert!(mass <= Milligrams::MAX); }
        if let Ok(mass) = parse_mass_per_area(&text, width) { prop_assert!(mass <= MilligramsPerM2::MAX); }
        if let Ok(count) = text.parse::<Count>() { prop_assert!(count <= Count::MAX); }
        if let Ok(time) = text.parse::<Minutes>() { prop_assert!(time <= Minutes::MAX); }
        if let Ok(share) = text.parse::<PartsPerMillion>() { prop_assert!(share <= PartsPerMillion::MAX); }
        if let Ok(tex) = text.parse::<Tex>() { prop_assert!((1..=1_000_000_000).contains(&tex.thousandths())); }
        if let Ok(money) = Money::parse(&text, eur) { prop_assert!(money.minor >= 0); }
        if let Ok(money) = Money::parse_signed(&text, eur) { prop_assert!(money.to_millionths().is_ok()); }
        if let Ok(rate) = text.parse::<Rate>() { prop_assert!(!rate.get().is_zero()); }
        if let Ok(rate) = text.parse::<HourlyRate>() { prop_assert!(rate <= HourlyRate::MAX); }
        if let Ok(length) = Micrometres::from_decimal_m(&text) {
            prop_assert_eq!(Micrometres::from_decimal_m(&length.decimal_m()), Ok(length));
        }
        let _ = Millionths::from_decimal(&text);
        let _ = ellwand_domain::cloth::parse_shares(&text);
        let _ = text.parse::<ellwand_domain::shrinkage::Preparation>();
    }

    #[test]
    fn what_is_printed_is_read_back_within_the_printed_rounding(um in 0..=Micrometres::MAX.get()) {
        let length = Micrometres::new(um).unwrap();
        prop_assert_eq!(Micrometres::from_decimal_m(&length.decimal_m()), Ok(length));
        let metric = parse_length_down(&length.show(Units::Metric)).unwrap_or(Micrometres::MAX);
        prop_assert!((metric.get() - um).abs() <= 50);
        // A thousandth of a yard is 914.4 µm, a hundredth of an inch 254 µm; half of that and the reader's rounding.
        let yards = parse_length_down(&length.show(Units::Imperial)).unwrap_or(Micrometres::MAX);
        prop_assert!((yards.get() - um).abs() <= 459);
        let inches = parse_length_down(&length.show_width(Units::Imperial)).unwrap_or(Micrometres::MAX);
        prop_assert!((inches.get() - um).abs() <= 128);
    }

    #[test]
    fn eighths_of_a_yard_and_of_an_inch_survive_printing(n in 0_i64..100_000) {
        let yards = Micrometres::new(n * 114_300).unwrap();
        prop_assert_eq!(yards.show(Units::Imperial).parse(), Ok(yards));
        let inches = Micrometres::new(n * 3_175).unwrap();
        prop_assert_eq!(inches.show_width(Units::Imperial).parse(), Ok(inches));
    }

    #[test]
    fn the_other_quantities_are_read_back_too(n in 0_i64..1_000_000_000, minutes in 0..=Minutes::MAX.get()) {
        let value = Millionths::new(-n).unwrap();
        prop_assert_eq!(Millionths::from_decimal(&value.decimal()), Ok(value));
        let mass = Milligrams::new(n).unwrap();
        prop_assert_eq!(Milligrams::from_decimal_g(&mass.decimal_g()), Ok(mass));
        let time = Minutes::new(minutes).unwrap();
        prop_assert_eq!(time.to_string().parse(), Ok(time));
        let share = PartsPerMillion::new(n).unwrap();
        prop_assert_eq!(format!("{}%", share.decimal()).parse(), Ok(share));
        let printed: PartsPerMillion = share.to_string().parse().unwrap();
        prop_assert!((printed.get() - n).abs() <= 50);
        for code in ["EUR", "JPY", "KWD", "UYW"] {
            let money = Money { minor: n, currency: code.parse().unwrap() };
            prop_assert_eq!(Money::parse(&money.to_string(), None), Ok(money));
        }
        let rate = HourlyRate::new(n).unwrap();
        prop_assert_eq!(rate.to_string().parse(), Ok(rate));
        let tex = Tex::of_thousandths((n + 1).clamp(1, 1_000_000_000)).unwrap();
        prop_assert_eq!(tex.to_string().parse(), Ok(tex));
    }
}
