//! Bending length and rigidity along one grain.

use ellwand_domain::{
    quantity::{Micrometres, MilligramsPerM2},
    stiffness::{
        Reading, bending_length_from_overhang, bending_length_from_rigidity, decimal_unm, from_decimal_unm,
        milligram_centimetres, rigidity_from_bending_length, rigidity_from_gram_force,
    },
};
use proptest::prelude::*;

fn rigidity(mass: &str, mm: i64) -> i64 {
    rigidity_from_bending_length(mass.parse().unwrap(), Micrometres::from_mm(mm)).unwrap()
}

#[test]
fn the_bending_length_is_half_the_overhang() {
    // f-1, the accepted rule at 41.5° (textilepad.com 2022).
    assert_eq!(bending_length_from_overhang(Micrometres::from_mm(40)), Micrometres::from_mm(20));
}

#[test]
fn rigidity_is_mass_times_gravity_times_the_cube() {
    // f-2, computed from G = w·g0·c³: 15.691 µN·m = 160 mg·cm.
    assert_eq!(rigidity("200gsm", 20), 15_691);
    assert_eq!(milligram_centimetres(15_691), 1_600);
    // f-3, computed: 11.438 and 178.73 µN·m; their ratio is (45/18)³ = 15.6.
    let (warp, weft) = (rigidity("200gsm", 18), rigidity("200gsm", 45));
    assert_eq!((warp, (weft + 5) / 10), (11_438, 17_873));
    assert_eq!(weft * 10 / warp, 156);
    // f-9, computed: 0.1 gf·cm²/cm is 9.807 µN·m.
    assert_eq!(rigidity_from_gram_force(1_000).unwrap(), 9_807);
}

#[test]
fn the_bending_length_comes_back_from_the_rigidity() {
    // f-8, computed: 10 µN·m at 150 g/m² is 18.94 mm.
    let c = bending_length_from_rigidity(10_000, "150gsm".parse().unwrap()).unwrap();
    assert_eq!((c.get() + 5) / 10, 1_894);
    assert!(bending_length_from_rigidity(10_000, MilligramsPerM2::ZERO).is_err());
    assert!(bending_length_from_rigidity(-1, "150gsm".parse().unwrap()).is_err());
    assert!(bending_length_from_rigidity(i64::MAX, MilligramsPerM2::new(1).unwrap()).is_err());
    assert_eq!(bending_length_from_rigidity(0, MilligramsPerM2::MAX).unwrap(), Micrometres::ZERO);
    assert!(rigidity_from_bending_length(MilligramsPerM2::MAX, Micrometres::from_mm(10_001)).is_err());
}

proptest! {
    #[test]
    fn there_and_back_is_the_same_bending_length(mg in 10_000_i64..1_000_000, um in 5_000_i64..100_000) {
        let (mass, c) = (MilligramsPerM2::new(mg).unwrap(), Micrometres::new(um).unwrap());
        let g = rigidity_from_bending_length(mass, c).unwrap();
        // The exact value is within half a nanonewton metre: |2·w·g0·c³ − 2·G·10²⁰| ≤ 10²⁰.
        let exact = i128::from(mg) * 980_665 * i128::from(um).pow(3);
        let scale = 10_i128.pow(20);
        prop_assert!((2 * exact - 2 * i128::from(g) * scale).abs() <= scale);
        // And the root is the nearest one to that rigidity.
        let back = i128::from(bending_length_from_rigidity(g, mass).unwrap().get());
        let eightfold = 8 * i128::from(g) * scale;
        let weight = i128::from(mg) * 980_665;
        prop_assert!((2 * back - 1).pow(3) * weight <= eightfold);
        prop_assert!((2 * back + 1).pow(3) * weight > eightfold);
    }
}

#[test]
fn a_stiffness_is_read_as_rigidity_or_bending_length() {
    // Units of the definition G = w·g0·c³ (derived): 1 µN·m = 1 000 nN·m.
    for text in ["11.438uNm", "11.438 µN·m", "11438 nNm"] {
        assert_eq!(text.parse(), Ok(Reading::Rigidity(11_438)), "{text}");
    }
    assert_eq!("2 cm".parse(), Ok(Reading::BendingLength(Micrometres::from_mm(20))));
    for text in ["11.4", "0uNm", "0mm", "-1uNm", "11.4 gsm", ""] {
        assert!(text.parse::<Reading>().is_err(), "{text}");
    }
    assert_eq!(decimal_unm(11_438), "11.438");
    assert_eq!(from_decimal_unm("11.438"), Ok(11_438));
}
