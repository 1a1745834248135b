//! Whether two outlines overlap, beside a foreign library: the area of their intersection by `i_overlay`, on a finer grid, so that where
//! their edges cross is not rounded away.

use super::both;
use ellwand_domain::lay::{LayError, Outline, Point};
use i_overlay::{
    core::{fill_rule::FillRule, overlay::Overlay, overlay_rule::OverlayRule},
    i_float::int::point::IntPoint,
    i_shape::int::area::Area,
};

/// Micrometres of the foreign grid in one of ours.
const FINER: i64 = 1 << 24;
/// Its area below which an intersection is rounding: edges of 20 of ours, moved by two of its.
const LEAST: i64 = 20 * FINER * 2;

/// Numbers that look random, the same each time (splitmix64).
struct Drawn(u64);

impl Drawn {
    fn below(&mut self, limit: i64) -> i64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        i64::try_from((mixed ^ (mixed >> 31)) % u64::try_from(limit).unwrap()).unwrap()
    }

    /// A polygon of 3 to 8 corners on a grid of 7 × 7, in the order of their directions from a point between them or as drawn.
    fn outline(&mut self) -> Outline {
        loop {
            let count = 3 + self.below(6);
            let mut corners: Vec<Point> = (0..count)
                .map(|_| Point::new(self.below(7), self.below(7)))
                .collect();
            if self.below(4) > 0 {
                let middle = 2.5 + self.below(3) as f64 / 3.0;
                let direction = |corner: &Point| {
                    (corner.across as f64 - middle).atan2(corner.along as f64 - middle)
                };
                corners.sort_by(|one, other| direction(one).total_cmp(&direction(other)));
            }
            if let Ok(outline) = Outline::new(corners) {
                return outline;
            }
        }
    }
}

fn moved(outline: &Outline, along: i64, across: i64) -> Outline {
    let corner = |corner: &Point| Point::new(corner.along + along, corner.across + across);
    Outline::new(outline.corners().iter().map(corner).collect()).unwrap()
}

fn foreign_area(one: &Outline, other: &Outline) -> i64 {
    let contour = |outline: &Outline| -> Vec<IntPoint<i32>> {
        let finer = |um: i64| i32::try_from(um * FINER).unwrap();
        outline
            .corners()
            .iter()
            .map(|corner| IntPoint::new(finer(corner.along), finer(corner.across)))
            .collect()
    };
    Overlay::from_subj_and_clip(contour(one).as_slice(), contour(other).as_slice())
        .overlay(OverlayRule::Intersect, FillRule::NonZero)
        .area_two()
        .abs()
}

/// Draws pairs whose boxes meet; returns how many overlap, and how many touch without.
fn compare(pairs: u32, seed: u64) -> (u32, u32) {
    let mut drawn = Drawn(seed);
    let (mut overlaps, mut touches) = (0, 0);
    for number in 0..pairs {
        let one = drawn.outline();
        let same = drawn.below(8) == 0;
        let other = if same { one.clone() } else { drawn.outline() };
        let other = moved(&other, drawn.below(9) - 4, drawn.below(9) - 4);
        let found = match both(&one, &other, Point::new(10, 10)) {
            Ok(_) => false,
            Err(LayError::Overlap { .. }) => true,
            Err(error) => panic!("{error}: {one:?} {other:?}"),
        };
        let area = foreign_area(&one, &other);
        assert_eq!(
            found,
            area > LEAST,
            "pair {number}, area {area}: {one:?} {other:?}"
        );
        overlaps += u32::from(found);
        // Moved by one towards the other they would overlap: they touch, or all but.
        let near = |along, across| foreign_area(&one, &moved(&other, along, across)) > LEAST;
        let is_near = !found && (near(1, 0) || near(-1, 0) || near(0, 1) || near(0, -1));
        touches += u32::from(is_near);
    }
    (overlaps, touches)
}

#[test]
fn overlaps_agree_with_a_foreign_library() {
    let (overlaps, touches) = compare(4_000, 1);
    assert!(overlaps > 1_000 && touches > 200, "{overlaps} {touches}");
}

#[test]
#[ignore = "a million pairs take minutes"]
fn a_million_overlaps_agree_with_a_foreign_library() {
    let (overlaps, touches) = compare(1_000_000, 2);
    println!("{overlaps} overlap, {touches} touch");
}
