//! Thread counts and lengths on the reel.

use ellwand_domain::{
    quantity::{Micrometres, Milligrams, QuantityError, Tex, YarnCount},
    thread::{
        NeedleSize, ReelError, length_on_reel, mass_of_thread, net_of, net_of_roll, on_each_reel,
        over_reels,
    },
};
use proptest::prelude::*;

fn tex(text: &str) -> Tex {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// Metres to a tenth.
fn tenths(net: &str, count: &str) -> i64 {
    let length = length_on_reel(net.parse::<Milligrams>().unwrap(), tex(count)).unwrap();
    (length.get() + 50_000) / 100_000
}

#[test]
fn counts_convert_between_systems() {
    // d-1, "Shawl Weaving Artisan" trade text p. 72: Nm 60 is 16.67 tex.
    assert_eq!(tex("Nm 60").thousandths(), 16_667);
    // d-2, same: 20 tex is Ne 29.53.
    assert_eq!(tex("20tex").thousandths_of(YarnCount::Cotton), 29_527);
    // d-3, mapofsciences.com: Ne 30 is 19.68 tex, 177.2 den.
    assert_eq!(tex("Ne 30").thousandths(), 19_685);
    assert_eq!(
        (tex("Ne 30").thousandths_of(YarnCount::Denier) + 50) / 100,
        1_772
    );
    // d-12, Wikipedia "Units of textile measurement" copy: 900 m that weigh 7.5 g are 75 den.
    let sample = mass_of_thread("900m".parse().unwrap(), tex("75den")).unwrap();
    assert_eq!(sample, "7.5g".parse().unwrap());
}

#[test]
fn every_system_is_read_before_or_behind_its_number() {
    for (text, milli) in [
        ("30tex", 30_000),
        ("tex 30", 30_000),
        ("300dtex", 30_000),
        ("270den", 30_000),
        ("Nm 50/2", 40_000),
        ("50/2 Nm", 40_000),
        ("nm 25", 40_000),
        ("Ne 40/2", 29_527),
        ("metric ticket 120", 25_000),
        ("metric ticket 100", 30_000),
        ("cotton ticket 40", 44_291),
        ("23,622 tex", -1),
    ] {
        assert_eq!(
            text.parse::<Tex>().map_or(-1, Tex::thousandths),
            milli,
            "{text}"
        );
    }
    let bare = "ticket 120".parse::<Tex>().unwrap_err().to_string();
    assert!(bare.contains("metric or cotton"), "{bare}");
    assert!(
        "30/2 tex".parse::<Tex>().is_err(),
        "plies multiply a direct count"
    );
    for text in ["0tex", "Nm 0", "tex 0.0001"] {
        assert!(
            matches!(text.parse::<Tex>(), Err(QuantityError::NotPositive { .. })),
            "{text}"
        );
    }
    assert!("1000001 tex".parse::<Tex>().is_err() && "1000000 tex".parse::<Tex>().is_ok());
}

/// A count is the ratio that its definition says, not that ratio rounded (derived from the definitions).
#[test]
fn a_count_keeps_its_exact_ratio() {
    assert_eq!(
        (
            tex("20den").exact_tex(),
            tex("20den").number_in(YarnCount::Denier)
        ),
        ("20/9".into(), "20".into())
    );
    // 30 hanks of 840 yd are 25 200 yd in a pound.
    assert_eq!(tex("Ne 30").yards_per_pound(), "25200.0");
    assert_eq!(tex("Ne 30").thousandths_of(YarnCount::Cotton), 30_000);
    // 60 m in a gram: 3 000 m in 50 g; 100 lb are whole milligrams.
    assert_eq!(
        length_on_reel("50g".parse().unwrap(), tex("Nm 60"))
            .unwrap()
            .get(),
        3_000_000_000
    );
    let pounds = length_on_reel("100lb".parse().unwrap(), tex("Ne 30")).unwrap();
    assert_eq!(pounds, "2520000yd".parse().unwrap());
    assert_eq!(
        mass_of_thread("9000m".parse().unwrap(), tex("20den"))
            .unwrap()
            .get(),
        20_000
    );
    assert_eq!(tex("3x20den"), tex("60den"));
    assert_eq!(tex("30tex").exact_tex(), "30");
}

#[test]
fn tickets_are_three_cords() {
    // d-4, d-5, apparelmerchandisinglearner.blogspot.com 2017 and garmentsmerchandising.com: cotton tickets.
    for (count, ticket) in [
        ("20/3", 20),
        ("20/2", 30),
        ("40/2", 60),
        ("60/3", 60),
        ("80/4", 60),
        ("40/3", 40),
        ("40/4", 30),
        ("60/2", 90),
    ] {
        let found = tex(&format!("Ne {count}")).thousandths_of(YarnCount::CottonTicket);
        assert_eq!((found + 500) / 1_000, ticket, "{count}");
    }
    // d-6, salmanenayet.wixsite.com: metric tickets.
    for (count, ticket) in [("60/1", 180), ("60/2", 90), ("60/4", 45)] {
        let found = tex(&format!("Nm {count}")).thousandths_of(YarnCount::MetricTicket);
        assert_eq!((found + 500) / 1_000, ticket, "{count}");
    }
}

#[test]
fn the_length_on_a_reel_comes_from_its_mass() {
    // d-7, d-8, computed.
    assert_eq!(tenths("100g", "30tex"), 33_333);
    assert_eq!(tenths("500g", "27tex"), 185_185);
    // d-9: 95 g of Ne 50/2 is 4021.7 m; textilecalculations.com prints 4002.31 from rounded yards and pounds.
    assert_eq!(tenths("95g", "Ne 50/2"), 40_217);
    let mass = mass_of_thread("5000m".parse().unwrap(), tex("30tex")).unwrap();
    assert_eq!(mass.get(), 150_000);
    assert!(
        length_on_reel(Milligrams::MAX, Tex::of_thousandths(1).unwrap()).is_err(),
        "beyond 10 000 km"
    );
}

#[test]
fn cotton_and_metric_counts_keep_their_ratio() {
    // d-10: Ne × denier = 5314.9 and Nm = 1.6934 × Ne; a page at textilecalculations.com loses the decimal points.
    assert_eq!(
        (tex("Ne 1").thousandths_of(YarnCount::Denier) + 50) / 100,
        53_149
    );
    let (metric, cotton) = (
        tex("1tex").thousandths_of(YarnCount::Metric),
        tex("1tex").thousandths_of(YarnCount::Cotton),
    );
    assert_eq!((metric * 100_000 / cotton + 5) / 10, 16_934);
}

#[test]
fn yards_in_a_pound_and_metres_in_a_kilogram_follow_from_the_count() {
    // d-11, Wikipedia "Units of textile measurement" copy: tex 550, 1100, 2200, which it prints as 900, 450, 225.
    for (count, yards) in [
        ("550tex", "901.9"),
        ("1100tex", "451.0"),
        ("2200tex", "225.5"),
    ] {
        assert_eq!(tex(count).yards_per_pound(), yards, "{count}");
    }
    // Computed from the definitions (textiles.md, table of thread counts).
    for (count, metres) in [
        ("16tex", "62500.0"),
        ("30tex", "33333.3"),
        ("135tex", "7407.4"),
    ] {
        assert_eq!(tex(count).metres_per_kg(), metres, "{count}");
    }
}

/// Computed from the definitions (textiles.md, table of thread counts): tex, dtex, denier, Nm, Ne and both tickets.
#[test]
fn a_count_is_reported_in_every_system() {
    for (milli, rest) in [
        (16_000, ["160", "144", "62.5", "36.91", "187.5", "110.7"]),
        (24_000, ["240", "216", "41.67", "24.61", "125", "73.8"]),
        (30_000, ["300", "270", "33.33", "19.68", "100", "59.1"]),
        (60_000, ["600", "540", "16.67", "9.84", "50", "29.5"]),
        (105_000, ["1050", "945", "9.52", "5.62", "28.6", "16.9"]),
        (135_000, ["1350", "1215", "7.41", "4.37", "22.2", "13.1"]),
    ] {
        let count = Tex::of_thousandths(milli).unwrap();
        let report: Vec<String> = YarnCount::ALL[1..7]
            .iter()
            .map(|system| count.number_in(*system))
            .collect();
        assert_eq!(report, rest, "{count}");
    }
    let line = tex("30tex").in_every_system();
    assert!(
        line.starts_with("30 tex, 300 dtex, 270 den, Nm 33.33, Ne 19.68, metric ticket about 100,"),
        "{line}"
    );
    // Yards in a pound of linen, worsted and woollen: GNU units, definitions.units.
    for (text, yards) in [
        ("linen lea 1", "300.0"),
        ("worsted 1", "560.0"),
        ("woollen run 1", "1600.0"),
        ("Ne 1", "840.0"),
    ] {
        assert_eq!(tex(text).yards_per_pound(), yards, "{text}");
    }
}

#[test]
fn plies_multiply_what_is_direct_and_divide_what_is_not() {
    for (text, same) in [
        ("2x150den", "300den"),
        ("3 x 20 tex", "60tex"),
        ("tex 2x30", "60tex"),
        ("2×167dtex", "334dtex"),
        // Ne 50/2 is 25: a thread maker's bulletin; textilecalculations.com.
        ("Ne 50/2", "Ne 25"),
        ("linen lea 40/2", "linen lea 20"),
        ("worsted 32/2", "worsted 16"),
        ("Nm 60/1", "Nm 60"),
        ("metric tkt 120", "metric ticket 120"),
    ] {
        assert_eq!(tex(text), tex(same), "{text}");
    }
}

#[test]
fn what_could_be_another_thread_is_refused() {
    for (text, says) in [
        ("ticket 120", "without metric or cotton"),
        ("tkt 120", "without metric or cotton"),
        ("120 ticket", "without metric or cotton"),
        (
            "metric ticket 120 cotton ticket 70",
            "metric and cotton tickets are different threads",
        ),
        (
            "metric cotton ticket 120",
            "metric and cotton tickets are different threads",
        ),
        ("30/2 tex", "for example 2x30tex"),
        ("2x40 Ne", "for example Ne 40/2"),
        ("Nm 2/50", "after the stroke"),
        ("metric ticket 120/3", "of the finished thread"),
        ("2x40/2 Ne", "is not the count of a thread"),
        ("0x30tex", "plies from 1 to 99"),
        ("1.5x30tex", "plies from 1 to 99"),
        ("Ne 200/100", "plies from 1 to 99"),
        ("Ne 40/2/3", "is not the count of a thread"),
        ("Nm 50 Ne 30", "is not the count of a thread"),
        ("fine", "is not the count of a thread"),
        ("2x0den", "more than zero"),
        ("0tex", "more than zero"),
        ("Ne 0", "more than zero"),
    ] {
        let error = text.parse::<Tex>().expect_err(text).to_string();
        assert!(error.contains(says), "{text}: {error}");
    }
    assert!("Ne 0/2".parse::<Tex>().is_err() && "Ne 40/0".parse::<Tex>().is_err());
}

#[test]
fn a_reel_is_weighed_with_its_tare() {
    let net = |gross: &str, tare: &str, reels| {
        net_of(gross.parse().unwrap(), tare.parse().unwrap(), reels)
    };
    // Derived: 45 g less 12 g; three reels of 12 g are 36 g.
    assert_eq!(net("45g", "12g", 1).map(Milligrams::get), Ok(33_000));
    assert_eq!(net("300g", "12g", 3).map(Milligrams::get), Ok(264_000));
    assert_eq!(net("12g", "12g", 1), Ok(Milligrams::ZERO), "an empty reel");
    let lighter = net("11.999g", "12g", 1).unwrap_err().to_string();
    assert_eq!(lighter, "11.999 g in all is less than the empty reel, 12 g");
    assert!(
        net("35g", "12g", 3)
            .unwrap_err()
            .to_string()
            .contains("3 reels, 36 g")
    );
    assert!(matches!(
        net("0g", "0g", 1),
        Err(ReelError::NothingWeighed { .. })
    ));
    for reels in [0, -1, 1_001] {
        assert_eq!(net("1kg", "1g", reels), Err(ReelError::Number { reels }));
    }
}

#[test]
fn a_length_goes_round_the_reels() {
    let length = |text: &str| text.parse::<Micrometres>().unwrap();
    // Derived: 200 m over four; 100 m over three, rounded up.
    assert_eq!(on_each_reel(length("200m"), 4).unwrap(), length("50m"));
    assert_eq!(on_each_reel(length("100m"), 3).unwrap().get(), 33_333_334);
    let reels: Vec<i64> = over_reels(length("100m"), 3)
        .unwrap()
        .into_iter()
        .map(Micrometres::get)
        .collect();
    assert_eq!(reels, [33_333_334, 33_333_333, 33_333_333]);
    let two = Micrometres::new(2).unwrap();
    assert_eq!(
        over_reels(two, 3),
        Err(ReelError::TooShort {
            length: two,
            reels: 3
        })
    );
    assert_eq!(on_each_reel(two, 0), Err(ReelError::Number { reels: 0 }));
}

#[test]
fn a_needle_is_as_thick_as_its_size_says() {
    let needle = |text: &str| {
        text.parse::<NeedleSize>()
            .unwrap_or_else(|e| panic!("{text}: {e}"))
    };
    // g-4, apparelscience.com: Nm 110 is 1.10 mm. Nm 80 is 0.80 mm, Nm 130 is 1.30 mm: needle maker's page.
    for (text, um) in [
        ("Nm 110", 1_100),
        ("Nm 80", 800),
        ("nm130", 1_300),
        ("80/12", 800),
        ("US 14", 900),
    ] {
        assert_eq!(needle(text).blade().unwrap().get(), um, "{text}");
    }
    // Pairs as printed at askvity and ethelandi; 75 with 11 from memory.
    assert_eq!(
        (
            needle("Nm 90").us(),
            needle("75").us(),
            needle("Nm 85").us()
        ),
        (Some((14, true)), Some((11, false)), None)
    );
    let small = "12".parse::<NeedleSize>().unwrap_err().to_string();
    assert!(
        small.contains("a metric needle size") && small.contains("US 12 or 80/12"),
        "{small}"
    );
    for text in [
        "", "80/14", "needle", "12", "US 13", "Nm 8.5", "-80", "Nm 10", "Nm 500",
    ] {
        assert!(text.parse::<NeedleSize>().is_err(), "{text}");
    }
}

proptest! {
    /// A count that is typed in a system is reported as typed, however many digits its tex has.
    #[test]
    fn every_system_tells_what_was_typed(thousandths in 1_000..10_000_000_i64, at in 0..YarnCount::ALL.len()) {
        let system = YarnCount::ALL[at];
        let text = format!("{} {}.{:03}", system.label(), thousandths / 1_000, thousandths % 1_000);
        let count = text.parse::<Tex>().unwrap();
        prop_assert_eq!(count.thousandths_of(system), thousandths, "{}", text);
        let report = count.shown_in(system).replace("about ", "");
        prop_assert!(report.parse::<Tex>().is_ok(), "{report}");
    }

    /// The reels of a line add up to it and are alike; those of a need suffice, and no more than needed.
    #[test]
    fn reels_add_up(um in 1_000..1_000_000_000_000_i64, reels in 1..1_000_i64) {
        let length = Micrometres::new(um).unwrap();
        let shared: Vec<i64> = over_reels(length, reels).unwrap().into_iter().map(Micrometres::get).collect();
        prop_assert_eq!(shared.iter().sum::<i64>(), um);
        prop_assert!(shared.iter().max().unwrap() - shared.iter().min().unwrap() <= 1);
        let each = on_each_reel(length, reels).unwrap().get();
        prop_assert!(each * reels >= um && (each - 1) * reels < um);
    }
}

/// By hand: 5.900 kg less a core of 0.500 kg.
#[test]
fn a_core_comes_off_a_roll_of_cloth() {
    let net = |gross: &str, tare: &str| net_of_roll(gross.parse().unwrap(), tare.parse().unwrap());
    assert_eq!(net("5.9kg", "500g").unwrap().decimal_g(), "5400");
    assert_eq!(
        net("5.9kg", "0g").unwrap().decimal_g(),
        "5900",
        "without a core all of it is cloth"
    );
    let lighter = net("499g", "500g").unwrap_err().to_string();
    assert_eq!(lighter, "499 g in all is less than the empty core, 500 g");
    assert!(
        net("0g", "0g")
            .unwrap_err()
            .to_string()
            .contains("an empty core weighs something")
    );
}
