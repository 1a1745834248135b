//! Sizes of buttons and zips, needles, and sets from several cards.

use ellwand_domain::{
    quantity::Micrometres,
    trim::{Card, Ligne, STOCKED, Share, TrimSize, fill, join, lacking, nearest},
};
use proptest::prelude::*;

fn ligne(number: i64) -> Ligne {
    Ligne::new(number).unwrap()
}

fn size(text: &str) -> TrimSize {
    text.parse()
        .unwrap_or_else(|error| panic!("{text}: {error}"))
}

/// textiles.md g-1 to g-3 and g-5: sizes.com (40 L = 1 in; 20 L is half an inch), workroombuttons.com.
#[test]
fn sizes_are_those_of_the_trade() {
    assert_eq!(ligne(32).across().unwrap().get(), 20_320);
    assert_eq!(ligne(24).across().unwrap().get(), 15_240);
    assert_eq!(ligne(20).across().unwrap(), "1/2 in".parse().unwrap());
    let fifteen = Micrometres::from_mm(15);
    assert_eq!(
        (
            Ligne::decimal_of(fifteen).as_str(),
            nearest(fifteen, STOCKED)
        ),
        ("23.6", Some(ligne(24)))
    );
}

/// Every row: the exact column, and what workroombuttons.com prints (its 25.50 mm for 40 L is a slip: exactly 25.40).
const LIGNES: [(i64, i64, &str, Option<&str>); 15] = [
    (14, 8_890, "0.35in", None),
    (15, 9_525, "0.375in", None),
    (16, 10_160, "0.4in", Some("10.16mm")),
    (18, 11_430, "0.45in", Some("11.43mm")),
    (20, 12_700, "0.5in", Some("12.70mm")),
    (22, 13_970, "0.55in", Some("13.97mm")),
    (24, 15_240, "0.6in", Some("15.24mm")),
    (28, 17_780, "0.7in", Some("17.78mm")),
    (30, 19_050, "0.75in", Some("19.05mm")),
    (32, 20_320, "0.8in", None),
    (34, 21_590, "0.85in", None),
    (36, 22_860, "0.9in", Some("22.86mm")),
    (40, 25_400, "1in", None),
    (50, 31_750, "1.25in", Some("31.75mm")),
    (60, 38_100, "1.5in", Some("38.10mm")),
];

#[test]
fn every_size_of_the_table_is_exact() {
    assert_eq!(STOCKED.map(Ligne::get), LIGNES.map(|row| row.0));
    for (number, um, inch, printed) in LIGNES {
        assert_eq!(ligne(number).across().unwrap().get(), um, "{number} L");
        assert_eq!(inch.parse::<Micrometres>().unwrap().get(), um, "{number} L");
        if let Some(printed) = printed {
            assert_eq!(
                printed.parse::<Micrometres>().unwrap().get(),
                um,
                "{number} L"
            );
        }
        assert_eq!(size(&format!("{number}L")).across().get(), um);
        assert_eq!(
            nearest(ligne(number).across().unwrap(), STOCKED),
            Some(ligne(number))
        );
    }
}

/// Shop charts sell 18 L as 11 or 11.5 mm (gentsshop.co.uk, cxbuttons.com): sizes are the same within 0.5 mm.
#[test]
fn sizes_match_within_half_a_millimetre() {
    for shop in ["11mm", "11.5mm", "11.93mm", "10.93mm"] {
        assert!(size("18L").same_as(size(shop)), "{shop}");
    }
    for other in ["11.931mm", "10.929mm", "16L", "20L"] {
        assert!(!size("18L").same_as(size(other)), "{other}");
    }
    assert!(!size("14L").same_as(size("15L")), "0.635 mm apart");
}

#[test]
fn sizes_are_shown_both_ways() {
    for (typed, report) in [
        ("24L", "24 L = 15.24 mm"),
        ("20 ligne", "20 L = 12.7 mm"),
        ("15 L", "15 L = 9.525 mm"),
        ("15mm", "15 mm = 23.6 L"),
        ("1.5 cm", "15 mm = 23.6 L"),
        ("15.24mm", "15.24 mm = 24.0 L"),
        ("23.5L", "14.923 mm = 23.5 L"),
        ("55cm", "55 cm"),
        ("22in", "55.88 cm"),
        ("70mm", "7 cm"),
        ("0.5mm", "0.5 mm = 0.8 L"),
    ] {
        assert_eq!(size(typed).to_string(), report, "{typed}");
    }
    assert!("0L".parse::<TrimSize>().is_err());
    assert!(
        "24".parse::<TrimSize>()
            .unwrap_err()
            .to_string()
            .contains("needs a unit")
    );
}

#[test]
fn a_near_size_may_stand_in_and_a_longer_zip_but_no_shorter_one() {
    // Within 2 L is common practice: 22 L and 26 L for 24 L, not 21 L or 28 L.
    for (other, may) in [("22L", true), ("26L", true), ("21L", false), ("28L", false)] {
        assert_eq!(size(other).may_stand_in_for(size("24L")), may, "{other}");
    }
    assert!(size("60cm").may_stand_in_for(size("55cm")));
    assert!(!size("50cm").may_stand_in_for(size("55cm")), "too short");
    assert!(
        !size("60L").may_stand_in_for(size("24L")),
        "a button is not shortened"
    );
    assert!(
        !size("55.05cm").is_longer_than(size("55cm")),
        "that is the same one"
    );
}

#[test]
fn a_set_is_joined_from_the_fewest_cards_and_leaves_the_fullest() {
    let cards = |free: &[i64]| -> Vec<Card> {
        free.iter()
            .enumerate()
            .map(|(piece, free)| Card { piece, free: *free })
            .collect()
    };
    // Four on one card and three on another.
    assert_eq!(join(&cards(&[4, 3]), 7), Some(vec![(0, 4), (1, 3)]));
    assert_eq!(join(&cards(&[4, 3]), 8), None);
    // The one card that is just enough, not the fullest one.
    assert_eq!(join(&cards(&[12, 7, 9]), 7), Some(vec![(1, 7)]));
    assert_eq!(join(&cards(&[0, 2]), 2), Some(vec![(1, 2)]));
    // Two sets of six from 8 and 4: one whole, one joined.
    let shares = [
        Share::Sets { piece: 0, sets: 1 },
        Share::Part { piece: 1, trims: 4 },
        Share::Part { piece: 0, trims: 2 },
    ];
    assert_eq!(fill(&cards(&[8, 4]), 6, 2), Some(shares.to_vec()));
    assert_eq!(fill(&cards(&[8, 3]), 6, 2), None);
    assert_eq!(
        (fill(&cards(&[8]), 0, 1), fill(&cards(&[8]), 1, 0)),
        (None, None)
    );
}

proptest! {
    /// There and back: a whole number of ligne is one exactly, and no other diameter within a ligne is.
    #[test]
    fn ligne_and_millimetres_go_there_and_back(number in 1_i64..100_000, beside in 1_i64..635) {
        let across = ligne(number).across().unwrap();
        prop_assert_eq!(Ligne::of_exactly(across), Some(ligne(number)));
        prop_assert_eq!(Ligne::of_exactly(Micrometres::new(across.get() + beside).unwrap()), None);
        let typed = format!("{number}L").parse::<TrimSize>().unwrap();
        let millimetres = format!("{}.{:03}mm", across.get() / 1_000, across.get() % 1_000);
        prop_assert_eq!(typed.across(), millimetres.parse().unwrap());
        prop_assert_eq!(typed.off(TrimSize::new(across)), Micrometres::ZERO);
    }

    /// The nearest size is nearer than every other, whatever is wanted.
    #[test]
    fn the_nearest_size_is_the_nearest(um in 1_i64..60_000) {
        let wanted = Micrometres::new(um).unwrap();
        let found = nearest(wanted, STOCKED).unwrap();
        let off = |size: Ligne| size.across().unwrap().get().abs_diff(um);
        prop_assert!(STOCKED.iter().all(|size| off(*size) >= off(found)));
    }

    /// Sets are filled exactly when enough is free, from no card more than it has, each set whole.
    #[test]
    fn sets_are_filled_whenever_there_is_enough(
        free in prop::collection::vec(0_i64..15, 0..6), each in 1_i64..9, sets in 1_i64..5,
    ) {
        let cards: Vec<Card> = free.iter().enumerate().map(|(piece, free)| Card { piece, free: *free }).collect();
        let enough = free.iter().sum::<i64>() >= each * sets;
        let filled = fill(&cards, each, sets);
        prop_assert_eq!(filled.is_some(), enough);
        let mut taken = vec![0; free.len()];
        let (mut whole, mut part, mut parts) = (0, 0, 0);
        for share in filled.unwrap_or_default() {
            match share {
                Share::Sets { piece, sets } => {
                    whole += sets;
                    taken[piece] += sets * each;
                }
                Share::Part { piece, trims } => {
                    prop_assert!(trims > 0 && trims < each, "a part is less than a set");
                    taken[piece] += trims;
                    part += trims;
                    prop_assert!(part <= each, "the parts in a row make one set");
                    if part == each {
                        (part, parts) = (0, parts + 1);
                    }
                }
            }
        }
        prop_assert_eq!(part, 0);
        prop_assert!(!enough || whole + parts == sets);
        prop_assert!(taken.iter().zip(&free).all(|(taken, free)| taken <= free));
    }

    /// No fewer cards would do.
    #[test]
    fn a_set_takes_the_fewest_cards(free in prop::collection::vec(0_i64..15, 0..7), wanted in 1_i64..40) {
        let cards: Vec<Card> = free.iter().enumerate().map(|(piece, free)| Card { piece, free: *free }).collect();
        if let Some(taken) = join(&cards, wanted) {
            let mut sorted = free.clone();
            sorted.sort_unstable_by_key(|free| std::cmp::Reverse(*free));
            let one_fewer: i64 = sorted.iter().take(taken.len() - 1).sum();
            prop_assert!(one_fewer < wanted);
            prop_assert_eq!(taken.iter().map(|(_, trims)| trims).sum::<i64>(), wanted);
        }
    }
}

/// By pencil: two sets of six are twelve; with ten there are two missing, with twelve and more none.
#[test]
fn what_sets_lack_is_never_below_nothing() {
    assert_eq!(
        [9, 10, 12, 20].map(|have| lacking(6, 2, have)),
        [3, 2, 0, 0]
    );
    assert_eq!(
        fill(&[Card { piece: 0, free: 10 }], 6, 2),
        None,
        "what lacks trims cannot be filled"
    );
}
