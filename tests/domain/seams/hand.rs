//! Hand stitches and counted items, by their geometry.

use super::{plain, plan, um};
use ellwand_domain::{
    certainty::Certainty,
    quantity::{Micrometres, PartsPerMillion},
    thread::{Allowance, Density, Measures, Method, Sample, Seam, SeamError, Split},
};
use proptest::prelude::*;

fn by_hand(stitch: &str, step: &str, measures: Measures) -> Seam {
    let density = Some(Density::of_step(um(step)).unwrap());
    Seam {
        measures: Measures {
            length: Some(Micrometres::METRE),
            density,
            ..measures
        },
        ..plain(stitch)
    }
}

/// The rows of `hand_stitch.csv`, own geometry: by pencil, with sides that make whole roots, inside the ranges of the table.
#[test]
fn hand_stitches_follow_their_geometry() {
    let none = Measures::default();
    let thick = |text: &str| Measures {
        thickness: Some(um(text)),
        ..none
    };
    let bite = |text: &str| Measures {
        bite: Some(um(text)),
        ..none
    };
    for (stitch, step, measures, metres, range) in [
        ("running", "3mm", thick("0.6mm"), "1.2m", (110, 135)),
        // e-10, computed: 3 + 2 × 0.6/3.
        ("back", "3mm", thick("0.6mm"), "3.4m", (310, 360)),
        ("half-back", "4mm", thick("0.6mm"), "2.3m", (210, 260)),
        // √((2·6)² + 5²) = 13: 13/5 + 2·0.5/5, over the edge and through the cloth.
        (
            "whip",
            "5mm",
            Measures {
                bite: Some(um("6mm")),
                ..thick("0.5mm")
            },
            "2.8m",
            (200, 400),
        ),
        // A fold felled onto its ground is passed once: 13/5 + 0.5/5.
        (
            "fell",
            "5mm",
            Measures {
                bite: Some(um("6mm")),
                ..thick("0.5mm")
            },
            "2.7m",
            (200, 400),
        ),
        ("slip", "8mm", bite("1mm"), "1.25m", (110, 140)),
        // √(4² + 3²) = 5: (5 + 1)/3.
        (
            "pad",
            "3mm",
            Measures {
                across: Some(um("4mm")),
                ..bite("1mm")
            },
            "2m",
            (180, 260),
        ),
        // (2·3 + 0.8 + 0.4)/0.8.
        (
            "blanket",
            "0.8mm",
            Measures {
                knot: Some(um("0.4mm")),
                ..bite("3mm")
            },
            "9m",
            (800, 2_000),
        ),
    ] {
        let thread = by_hand(stitch, step, measures).thread().unwrap();
        assert_eq!(thread.total, um(metres), "{stitch}");
        assert!(
            (range.0..=range.1).contains(&(thread.total.get() / 10_000)),
            "{stitch}"
        );
        assert_eq!(
            (thread.split, thread.method),
            (Split::OneThread, Method::Geometry),
            "{stitch}"
        );
        let missing = by_hand(stitch, step, none).thread();
        assert!(
            matches!(missing, Err(SeamError::Missing { .. })),
            "{stitch}: {missing:?}"
        );
    }
    // (2·3 + 2·0.4 + 0.8 + 0.4)/0.8: the thickness of a blanketed edge may be given.
    let thick_edge = Measures {
        knot: Some(um("0.4mm")),
        thickness: Some(um("0.4mm")),
        ..bite("3mm")
    };
    assert_eq!(
        by_hand("blanket", "0.8mm", thick_edge)
            .thread()
            .unwrap()
            .total,
        um("10m")
    );
    // 2 m, step 4, thickness 1, bite 2 mm: 2·√(2² + 2²)/4 + 2·1/4 = 1.914 a metre; felled 1.664.
    for (stitch, ratio) in [
        ("whip", "1.914"),
        ("overcast", "1.914"),
        ("fell", "1.664"),
        ("felling", "1.664"),
    ] {
        let seam = by_hand(
            stitch,
            "4mm",
            Measures {
                bite: Some(um("2mm")),
                ..thick("1mm")
            },
        );
        assert_eq!(
            seam.thread().unwrap().ratio.unwrap().show(),
            ratio,
            "{stitch}"
        );
    }
    // √2 is no fraction: 2·√(1² + 1²)/2 + 0.5/2 on a metre, rounded up.
    let whip = by_hand(
        "fell",
        "2mm",
        Measures {
            bite: Some(um("1mm")),
            ..thick("0.5mm")
        },
    );
    assert_eq!(whip.thread().unwrap().total.get(), 1_664_214);
}

/// Own geometry, by pencil.
#[test]
fn counted_items_follow_their_geometry() {
    let item = |word: &str, measures: Measures| {
        Seam {
            measures,
            count: 5,
            ..plain(word)
        }
        .thread()
        .map(|thread| (thread.needle, thread.under))
    };
    let base = Measures {
        length: Some(um("3mm")),
        thickness: Some(um("0.5mm")),
        ..Measures::default()
    };
    // Four stitches: √((4·1)² + 3²) + 4·0.5 = 7 mm of each thread.
    let tack = Measures {
        width: Some(um("1mm")),
        stitches: Some(4),
        ..base
    };
    assert_eq!(item("bar-tack", tack), Ok((um("35mm"), um("35mm"))));
    // Four passes of 2·(3 + 2) + 2·3 = 16 mm.
    let button = Measures {
        thickness: Some(um("3mm")),
        shank: Some(um("2mm")),
        width: Some(um("3mm")),
        stitches: Some(4),
        ..Measures::default()
    };
    assert_eq!(item("button", button), Ok((um("320mm"), Micrometres::ZERO)));
    // (2·20 + 4·2.5)/1 = 50 stitches of 2·2.5 + 1 + 0.5.
    let worked = Measures {
        length: Some(um("20mm")),
        density: Some(Density::of_step(um("1mm")).unwrap()),
        bite: Some(um("2.5mm")),
        knot: Some(um("0.5mm")),
        ..Measures::default()
    };
    assert_eq!(
        item("hand-buttonhole", worked),
        Ok((um("1625mm"), Micrometres::ZERO))
    );
    // Its edge is passed twice: 50 stitches of 2·2.5 + 2·1 + 1 + 0.5.
    let thick = Measures {
        thickness: Some(um("1mm")),
        ..worked
    };
    assert_eq!(
        item("hand-buttonhole", thick),
        Ok((um("2125mm"), Micrometres::ZERO))
    );
    // 14 stitches of √(4² + 3²) + 1 and 4 of √(8² + 3²) + 1: 84 + 38.176 015 mm, the µm begun counts.
    let machine = Measures {
        length: Some(um("20mm")),
        width: Some(um("8mm")),
        density: Some(Density::of_step(um("3mm")).unwrap()),
        thickness: Some(um("1mm")),
        ..Measures::default()
    };
    assert_eq!(item("buttonhole", machine).unwrap().0.get(), 5 * 122_177);
    // A figure of one's own holds its ends.
    let own = Seam {
        each: Some(um("0.35m")),
        count: 7,
        ..plain("button")
    }
    .thread()
    .unwrap();
    assert_eq!(
        (own.total, own.needle_tails, own.method),
        (um("2.45m"), 0, Method::Given)
    );
    assert_eq!(own.method.certainty(), Certainty::Stated);
}

#[test]
fn a_hand_stitch_without_a_formula_is_known_by_a_sample() {
    for word in ["catch", "herringbone", "catch-stitch", "by-hand"] {
        let seam = by_hand(word, "5mm", Measures::default());
        assert!(
            matches!(seam.thread(), Err(SeamError::Unknown { .. })),
            "{word}"
        );
        // Derived: 10 cm of seam gave 32 cm of thread.
        let sample = Sample::new(um("10cm"), um("32cm"), Micrometres::ZERO).unwrap();
        let thread = Seam {
            sample: Some(sample),
            ..seam
        }
        .thread()
        .unwrap();
        assert_eq!(
            (thread.total, thread.method),
            (um("3.2m"), Method::Sample),
            "{word}"
        );
    }
}

const CLASSES: &[&str] = &[
    "101", "301", "401", "406", "504", "514", "516", "602", "605", "209",
];

proptest! {
    /// Thread never falls short of the exact fraction, by less than a micrometre for each role, and both roles are the whole.
    #[test]
    fn thread_rounds_up_and_both_roles_are_the_whole(
        class in prop::sample::select(CLASSES), step in 200_i64..10_000, thickness in 1_i64..20_000,
        width in 1_i64..30_000, length in 1_i64..50_000_000, count in 1_i64..50,
    ) {
        let measures = Measures {
            length: Some(Micrometres::new(length).unwrap()),
            density: Some(Density::of_step(Micrometres::new(step).unwrap()).unwrap()),
            thickness: Some(Micrometres::new(thickness).unwrap()),
            width: Some(Micrometres::new(width).unwrap()),
            ..Measures::default()
        };
        let thread = Seam { measures, count, ..plain(class) }.thread().unwrap();
        prop_assert_eq!(thread.needle.get() + thread.under.get(), thread.total.get());
        let (top, bottom) = thread.ratio.unwrap().parts();
        let exact = top * i128::from(length) * i128::from(count);
        let found = i128::from(thread.total.get()) * bottom;
        prop_assert!(found >= exact && found < exact + 2 * bottom, "{} for {}/{}", found, exact, bottom);
    }

    /// More stitches, thicker cloth and wider seams never take less thread.
    #[test]
    fn thread_grows_with_density_thickness_and_width(
        class in prop::sample::select(CLASSES), step in 201_i64..10_000, thickness in 1_i64..20_000,
        width in 1_i64..30_000, more in 1_i64..200,
    ) {
        let of = |step: i64, thickness: i64, width: i64| {
            let measures = Measures {
                density: Some(Density::of_step(Micrometres::new(step).unwrap()).unwrap()),
                thickness: Some(Micrometres::new(thickness).unwrap()),
                width: Some(Micrometres::new(width).unwrap()),
                ..plain(class).measures
            };
            Seam { measures, ..plain(class) }.thread().unwrap().total
        };
        let one = of(step, thickness, width);
        prop_assert!(of(step - more.min(step - 1).min(100), thickness, width) >= one);
        prop_assert!(of(step, thickness + more, width) >= one);
        prop_assert!(of(step, thickness, width + more) >= one);
    }

    /// A root is never below the exact one: squared, the slant of a whip stitch is at least the sum of the squares.
    #[test]
    fn roots_round_up(step in 10_i64..20_000, bite in 1_i64..20_000, thickness in 1_i64..5_000) {
        let measures = Measures {
            bite: Some(Micrometres::new(bite).unwrap()),
            thickness: Some(Micrometres::new(thickness).unwrap()),
            density: Some(Density::of_step(Micrometres::new(step).unwrap()).unwrap()),
            ..plain("whip").measures
        };
        let (top, bottom) = Seam { measures, ..plain("whip") }.thread().unwrap().ratio.unwrap().parts();
        let (p, t) = (i128::from(step), i128::from(thickness));
        // slant = ratio·p − 2·T, in millionths of a micrometre.
        let slant = (top * p - 2 * t * bottom) * 1_000_000;
        prop_assert_eq!(slant % bottom, 0);
        let slant = slant / bottom;
        let square = (4 * i128::from(bite).pow(2) + p * p) * 1_000_000_000_000;
        prop_assert!(slant * slant >= square && (slant - 1) * (slant - 1) < square);
    }

    /// Ends and waste only add, and never less than the exact share.
    #[test]
    fn waste_rounds_up(length in 1_i64..1_000_000_000, ends in 0_i64..1_000_000, ppm in 0_i64..=1_000_000) {
        let allowance = Allowance {
            ends: Micrometres::new(ends).unwrap(),
            waste: PartsPerMillion::new(ppm).unwrap(),
        };
        let mut seam = plain("301");
        seam.measures.length = Some(Micrometres::new(length).unwrap());
        let sum = plan(seam.thread().unwrap(), allowance).sum("thread").unwrap().unwrap();
        let sewn = sum.sum.get() + sum.ends.get();
        prop_assert_eq!(sum.ends.get(), 4 * ends);
        prop_assert_eq!(sewn + sum.waste.get(), sum.total.get());
        let exact = i128::from(sewn) * i128::from(1_000_000 + ppm);
        let total = i128::from(sum.total.get()) * 1_000_000;
        prop_assert!(total >= exact && total < exact + 1_000_000);
    }
}
