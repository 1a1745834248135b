//! Lengths and masses as they are printed.

use ellwand_domain::quantity::{
    Count, Currency, HourlyRate, Micrometres, Milligrams, MilligramsPerM2, Millionths, Minutes,
    Money, PartsPerMillion, Rate, Tex, Units,
    parse::{parse_length_down, parse_length_up, parse_mass_per_area},
};
use proptest::prelude::*;

#[test]
fn lengths_print_in_both_systems() {
    let m = |text: &str| text.parse::<Micrometres>().unwrap();
    assert_eq!(m("2.6m").show(Units::Metric), "2.60 m");
    assert_eq!(
        Micrometres::new(3_143_713).unwrap().show(Units::Metric),
        "3.143 m"
    );
    assert_eq!(
        Micrometres::new(1_478_571)
            .unwrap()
            .show_width(Units::Metric),
        "147.85 cm"
    );
    assert_eq!(m("150cm").show_width(Units::Metric), "150 cm");
    assert_eq!(m("2 3/4 yd").show(Units::Imperial), "2 3/4 yd");
    assert_eq!(m("1/8 yd").show(Units::Imperial), "1/8 yd");
    assert_eq!(m("3 yd").show(Units::Imperial), "3 yd");
    assert_eq!(m("2.6m").show(Units::Imperial), "2.843 yd");
    // 1.184 yd are 1.0826496 m, for a need 1.08265 m.
    let typed = parse_length_up("1.184 yd").unwrap();
    assert_eq!(typed.show_taken(Units::Imperial), "1.184 yd");
    // Thread to the centimetre: 21.0436 m of it are needed, 478.9564 m are left of 500 m.
    let [needed, rest] = [21_043_600, 478_956_400].map(|um| Micrometres::new(um).unwrap());
    assert_eq!(needed.show_taken(Units::Metric), "21.05 m");
    assert_eq!(rest.show(Units::Metric), "478.95 m");
    assert_eq!(m("12.345m").show(Units::Metric), "12.345 m");
    assert_eq!(m("2.142m").show_thread_taken(Units::Metric), "2.15 m");
    // What is there is never shown as nothing.
    for (um, metric, width, yards) in [
        (30, "0.00003 m", "0.003 cm", "0.000032 yd"),
        (50, "0.00005 m", "0.005 cm", "0.000054 yd"),
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
    assert_eq!(m("150cm").show_width(Units::Imperial), "59.05 in");
    assert_eq!(m("2.6m").decimal_m(), "2.60");
    assert_eq!(Micrometres::new(3_143_713).unwrap().decimal_m(), "3.143713");
}

#[test]
fn masses_print_in_both_systems() {
    let gsm = |text: &str| text.parse::<MilligramsPerM2>().unwrap();
    assert_eq!(gsm("180gsm").show(Units::Metric), "180 g/m²");
    // c-1, oureverydaylife.com: 100 g/m² is 2.95 oz/yd² (2.949).
    assert_eq!(gsm("100gsm").show(Units::Imperial), "2.95 oz/yd²");
    // c-7, apparelsearch.com: 8 momme is about 1 oz (1.024 oz/yd²).
    assert_eq!(gsm("8momme").show(Units::Imperial), "1.02 oz/yd²");
    let g = |text: &str| text.parse::<Milligrams>().unwrap();
    assert_eq!(g("350g").show(Units::Metric), "350 g");
    assert_eq!(g("27.432kg").show(Units::Metric), "27.432 kg");
    assert_eq!(
        Milligrams::new(226_796).unwrap().show(Units::Imperial),
        "8 oz"
    );
    assert_eq!(g("27.5g").decimal_g(), "27.5");
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
        let _ = Millionths::from_decimal(&text);
        let _ = ellwand_domain::cloth::parse_shares(&text);
        let _ = text.parse::<ellwand_domain::shrinkage::Preparation>();
    }

    #[test]
    fn what_is_printed_is_read_back_within_the_printed_rounding(um in 0..=Micrometres::MAX.get()) {
        let length = Micrometres::new(um).unwrap();
        let metric = parse_length_down(&length.show(Units::Metric)).unwrap_or(Micrometres::MAX);
        prop_assert!((0..10_000).contains(&(um - metric.get())));
        // A thousandth of a yard is 914.4 µm, a hundredth of an inch 254 µm; and the reader's rounding.
        let yards = parse_length_down(&length.show(Units::Imperial)).unwrap_or(Micrometres::MAX);
        prop_assert!((0..9_145).contains(&(um - yards.get())));
        let inches = parse_length_down(&length.show_width(Units::Imperial)).unwrap_or(Micrometres::MAX);
        prop_assert!((0..256).contains(&(um - inches.get())));
    }

    #[test]
    fn what_is_left_is_shown_down_and_what_is_taken_up(um in 1_000_000..50_000_000_i64, more in 1_i64..2_000) {
        let length = Micrometres::new(um).unwrap();
        let read = |text: String| parse_length_down(&text).unwrap_or(Micrometres::MAX).get();
        let most = if um < 10_000_000 { 1_000 } else { 10_000 };
        prop_assert!((0..most).contains(&(um - read(length.show(Units::Metric)))));
        prop_assert!((0..most).contains(&(read(length.show_taken(Units::Metric)) - um)));
        prop_assert!((0..10_000).contains(&(um - read(length.show_thread(Units::Metric)))));
        prop_assert!((0..10_000).contains(&(read(length.show_thread_taken(Units::Metric)) - um)));
        // Where it is too short it looks too short.
        if let Ok(needed) = Micrometres::new(um + more) {
            for units in [Units::Metric, Units::Imperial] {
                let (has, needs) = length.show_beside(needed, units);
                prop_assert_ne!(has, needs);
            }
        }
        // Of a length in whole millimetres, what is taken and what is left add up to it.
        let whole = (um / 1_000 + 7) * 1_000;
        if let Ok(rest) = Micrometres::new(whole - um) && um < 10_000_000 {
            prop_assert_eq!(read(length.show_taken(Units::Metric)) + read(rest.show(Units::Metric)), whole);
        }
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
