//! Rectangles laid on strips: worked examples, and the laws that hold at every width.

use ellwand_domain::{
    lay::{Ladder, Lay, LayPart, Rectangles},
    need::{Part, Parts, ShellMeasures},
    quantity::Micrometres,
    setting::{Grain, LengthBy, Measured, PartCut},
};
use proptest::{prelude::*, strategy::ValueTree};

fn um(length: i64) -> Micrometres {
    Micrometres::new(length).unwrap()
}

fn part(name: usize, count: i64, (length, width): (i64, i64), grain: Grain) -> Part {
    let shell = ShellMeasures {
        length: um(length),
        width: um(width),
        measured: Measured::With,
        allowance: None,
    };
    Part::new(&name.to_string(), count, shell, PartCut::With, grain).unwrap()
}

/// Parts of count, length and width in centimetres, lengthwise.
fn cm(parts: &[(i64, i64, i64)]) -> Parts {
    let parts = parts.iter().enumerate();
    let parts = parts.map(|(name, (count, length, width))| {
        let sides = (length * 10_000, width * 10_000);
        part(name, *count, sides, Grain::Lengthwise)
    });
    Parts::new(parts.collect(), 1).unwrap()
}

fn rectangles(parts: &[Part]) -> Vec<Rectangles> {
    let one = |part: &Part| {
        let extent = part.extent().unwrap();
        Rectangles {
            length: part.length(),
            width: part.width(),
            grain: part.grain(),
            extent: (extent.along, extent.across),
            count: part.count(),
        }
    };
    parts.iter().map(one).collect()
}

/// Back 72 × 52, fronts 72 × 30, sleeves 62 × 42, collars 46 × 12 cm. By hand: 52 + 30 + 30 cm beside one another are 72 cm long, two
/// sleeves beside both collars 62 cm: 134 cm, on 112 cm of the width. Nothing is shorter: below 134 cm no sleeve lies behind what is
/// 72 cm long, and the sleeves behind one another beside the row of 112 cm would be 154 cm wide. On less than 112 cm two of the three
/// that are 72 cm long lie behind one another: 144 cm at least. In rows: 72 + 72 + 62 + 46 = 252 cm.
#[test]
fn the_parts_of_a_jacket_lie_among_one_another() {
    let jacket = cm(&[(1, 72, 52), (2, 72, 30), (2, 62, 42), (2, 46, 12)]);
    let laid = jacket.laid(um(1_340_000)).unwrap();
    assert_eq!((laid.length, laid.rows), (um(1_340_000), um(2_520_000)));
    assert_eq!((laid.by, laid.width), (LengthBy::Lay, um(1_120_000)));
    let narrower = jacket.laid(um(1_119_999)).unwrap();
    assert!(narrower.length >= um(1_440_000), "{narrower:?}");
}

/// Known optima (from their areas): 12 of 10 × 10 on 30 cm are 40, 8 of 20 × 15 on 30 cm 80, 3 of 20 × 10 and 2 of 20 × 15 on 30 cm 40 cm.
#[test]
fn rectangles_that_fit_exactly_lie_exactly() {
    for (parts, width, length) in [
        (cm(&[(12, 10, 10)]), 300_000, 400_000),
        (cm(&[(8, 20, 15)]), 300_000, 800_000),
        (cm(&[(3, 20, 10), (2, 20, 15)]), 300_000, 400_000),
        // By hand: 20 + 10 cm beside one another twice, the other way round: 15 + 25 = 25 + 15.
        (
            cm(&[(1, 15, 20), (1, 25, 10), (1, 25, 20), (1, 15, 10)]),
            300_000,
            400_000,
        ),
        // Pinwheel: 20 × 10 cm four times around 10 × 10 cm, two of them turned: 30 × 30 cm.
        (
            cm(&[(2, 20, 10), (2, 10, 20), (1, 10, 10)]),
            300_000,
            300_000,
        ),
    ] {
        let laid = parts.laid(um(width)).unwrap();
        assert_eq!(laid.length, um(length), "{:?}", parts.list());
    }
}

/// By hand: a strip of 60 × 5 cm stands at 45° in a square of 65 ÷ √2 = 45.96 cm; one behind the other each takes 5 × √2 = 7.07 cm
/// more. Six of them: 45.96 + 5 × 7.07 = 81.32 cm on 45.97 cm, in rows 6 × 45.96 = 275.8 cm. What is whole costs some micrometres.
#[test]
fn strips_on_the_bias_lie_within_one_anothers_squares() {
    let strips = Parts::new(vec![part(0, 6, (600_000, 50_000), Grain::Bias)], 1).unwrap();
    let laid = strips.laid(um(460_000)).unwrap();
    assert_eq!(laid.rows, um(6 * 459_620));
    assert!((813_173..813_200).contains(&laid.length.get()), "{laid:?}");
    // One alone is a row.
    let alone = Parts::new(vec![part(0, 1, (600_000, 50_000), Grain::Bias)], 1).unwrap();
    assert_eq!(alone.laid(um(460_000)).unwrap().by, LengthBy::Rows);
}

/// Garments of more parts than are packed together follow one another as blocks; never more than rows of all.
#[test]
fn a_large_batch_is_laid_in_blocks() {
    let one = cm(&[(1, 72, 52), (2, 72, 30), (2, 62, 42), (2, 46, 12)]);
    let many = Parts::new(one.list().to_vec(), 30).unwrap();
    let (single, batch) = (
        one.laid(um(1_340_000)).unwrap(),
        many.laid(um(1_340_000)).unwrap(),
    );
    assert!(batch.length.get() <= 30 * single.length.get());
    assert!(batch.length <= batch.rows && batch.length >= batch.least);
}

fn grains() -> impl Strategy<Value = Grain> {
    prop_oneof![
        3 => Just(Grain::Lengthwise),
        1 => Just(Grain::Crosswise),
        1 => Just(Grain::Bias)
    ]
}

fn some_parts() -> impl Strategy<Value = Vec<Part>> {
    let side = || 10_000_i64..600_000;
    let part = (1_i64..4, side(), side(), grains());
    prop::collection::vec(part, 1..5).prop_map(|parts| {
        let named = parts.into_iter().enumerate();
        named
            .map(|(name, (count, l, w, grain))| super::ladder::part(name, count, (l, w), grain))
            .collect()
    })
}

/// A rectangle cut by straight lines into so many: lengths and widths in centimetres, and those of all.
fn exact_fit() -> impl Strategy<Value = (Vec<(i64, i64, i64)>, i64, i64)> {
    let cuts = prop::collection::vec(
        (any::<prop::sample::Index>(), any::<bool>(), 1_i64..100),
        2..7,
    );
    (40_i64..140, 40_i64..140, cuts).prop_map(|(length, width, cuts)| {
        let mut parts = vec![(1, length, width)];
        for (which, along, share) in cuts {
            let index = which.index(parts.len());
            let (_, l, w) = parts[index];
            let side = if along { l } else { w };
            if side < 8 {
                continue;
            }
            let cut = 4 + (side - 8) * share / 100;
            let (one, other) = match along {
                true => ((1, cut, w), (1, l - cut, w)),
                false => ((1, l, cut), (1, l, w - cut)),
            };
            parts[index] = one;
            parts.push(other);
        }
        (parts, length, width)
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Wider cloth never needs more, nothing is shorter than its area or its longest part, and nothing longer than rows.
    #[test]
    fn a_lay_keeps_the_laws_of_width(parts in some_parts(), width in 850_000_i64..1_700_000, wider in 0_i64..300_000) {
        let all = Parts::new(parts, 1).unwrap();
        let (laid, wide) = (all.laid(um(width)).unwrap(), all.laid(um(width + wider)).unwrap());
        prop_assert!(wide.length <= laid.length);
        prop_assert!(laid.length >= laid.least && laid.length <= laid.rows && laid.width <= um(width));
        prop_assert!(laid.length >= all.tallest().unwrap());
        prop_assert_eq!(all.laid(laid.width).unwrap().length, laid.length);
    }

    /// What is drawn is what counts: of several garments, in blocks or in rows, as long as it is said to be, each part as often as it is
    /// cut. The check is in its making.
    #[test]
    fn what_is_drawn_is_what_counts(parts in some_parts(), garments in 1_i64..4, width in 850_000_i64..1_700_000) {
        let all = Parts::new(parts, garments).unwrap();
        let (laid, drawn) = (all.laid(um(width)).unwrap(), all.placed(um(width)).unwrap());
        prop_assert_eq!(drawn.cloth().length, Some(laid.length));
        prop_assert!(drawn.length() <= laid.length && drawn.width() <= um(width));
        prop_assert_eq!(i64::try_from(drawn.placements().len()).unwrap(), all.pieces());
        prop_assert_eq!(drawn.area_um2(), laid.area_um2);
    }

    /// The answer hangs on nothing that was asked before.
    #[test]
    fn a_width_asked_anew_gets_the_same_lay(parts in some_parts(), widths in prop::collection::vec(850_000_i64..2_000_000, 2..4)) {
        let rectangles = rectangles(&parts);
        let (rising, falling) = (Ladder::new(rectangles.clone()), Ladder::new(rectangles));
        let mut sorted = widths;
        sorted.sort_unstable();
        let first: Vec<_> = sorted.iter().map(|width| rising.at(um(*width)).cloned()).collect();
        let mut second: Vec<_> = sorted.iter().rev().map(|width| falling.at(um(*width)).cloned()).collect();
        second.reverse();
        prop_assert_eq!(first, second);
    }

    /// Asked after more parts, fewer never need more: what is left of a lay is one.
    #[test]
    fn a_lay_without_a_part_is_a_lay(parts in some_parts(), width in 850_000_i64..1_700_000, which in any::<prop::sample::Index>()) {
        let ladder = Ladder::new(rectangles(&parts));
        let Some(rung) = ladder.at(um(width)) else { return Ok(()) };
        prop_assert!(rung.lay.length() <= rung.length && rung.lay.width() <= rung.width && rung.width <= um(width));
        let gone = which.index(parts.len());
        let fewer: Vec<LayPart> = rung.lay.parts().iter().enumerate()
            .map(|(at, part)| LayPart { count: if at == gone { 0 } else { part.count }, ..part.clone() })
            .collect();
        let left = rung.lay.placements().iter().filter(|placement| placement.part != gone).copied().collect();
        let lay = Lay::new(rung.lay.cloth(), fewer, left).unwrap();
        prop_assert!(lay.length() <= rung.length);
    }
}

/// Of rectangles that a larger one was cut into by straight lines, 48 draws: within 1 % of it.
#[test]
fn what_fits_exactly_is_found_within_a_hundredth() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    for _ in 0..48 {
        let drawn = exact_fit().new_tree(&mut runner).unwrap().current();
        let (parts, length, width) = drawn;
        let laid = cm(&parts).laid(um(width * 10_000)).unwrap();
        assert!(
            laid.length.get() * 100 <= length * 10_000 * 101,
            "{parts:?}: {laid:?}"
        );
    }
}
