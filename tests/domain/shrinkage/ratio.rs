//! ISO 5077's change, and the length before from the length after.

use super::{WASHED, marks, mm, percent, tenth_mm};
use ellwand_domain::{
    quantity::{Micrometres, PartsPerMillion},
    shrinkage::{Direction, Preparation, Ratio, ShrinkageError, WashTest},
};

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
