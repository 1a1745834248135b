//! What holds for every lay that is found: random parts, small budgets.

use super::{budget, cloth, part, searched, shirt};
use ellwand_domain::{
    lay::{LayCloth, LayPart, Outline, Ways},
    quantity::Micrometres,
};
use ellwand_lay::first;
use i_overlay::{
    core::{fill_rule::FillRule, overlay::Overlay, overlay_rule::OverlayRule},
    i_float::int::point::IntPoint,
    i_shape::int::area::Area,
};
use proptest::prelude::*;

const POSITIONS: u64 = 6_000;

/// A part with a hollow: a trapezium with one side pushed in; all in mm, at most 300 × 300.
fn some_part() -> impl Strategy<Value = LayPart> {
    let sides = (80_i64..300, 80_i64..300, 0_i64..40, 1_i64..4, any::<bool>());
    sides.prop_map(|(along, across, dent, count, may_flip)| {
        let corners = [
            (0, 0),
            (along, 0),
            (along - dent / 2, across / 2),
            (along, across),
            (dent, across),
            (dent / 2, across / 3),
        ];
        let name = format!("{along} × {across}, {dent}");
        LayPart {
            may_flip,
            ..part(&name, count, &corners)
        }
    })
}

fn some_parts() -> impl Strategy<Value = Vec<LayPart>> {
    prop::collection::vec(some_part(), 1..5).prop_map(|mut parts| {
        parts.sort_by(|one, other| one.name.cmp(&other.name));
        parts.dedup_by(|one, other| one.name == other.name);
        parts
    })
}

/// Least length by area, rounded up, and by the longest part: none of these is turned by a quarter.
fn least(parts: &[LayPart], cloth: LayCloth) -> i64 {
    let twice = parts
        .iter()
        .map(|part| part.outline.twice_area_um2() * i128::from(part.count));
    let square = 2 * i128::from(cloth.usable.get());
    let by_area = (twice.sum::<i128>() + square - 1) / square;
    let longest = parts.iter().map(|part| {
        let bounds = part.outline.bounds();
        bounds.most.along - bounds.least.along
    });
    longest.max().unwrap().max(i64::try_from(by_area).unwrap())
}

/// Twice the area that two outlines share; whole square micrometres.
fn shared(one: &Outline, other: &Outline) -> i64 {
    let contour = |outline: &Outline| -> Vec<IntPoint<i32>> {
        let int = |um: i64| i32::try_from(um).unwrap();
        let corners = outline.corners().iter();
        corners
            .map(|corner| IntPoint::new(int(corner.along), int(corner.across)))
            .collect()
    };
    Overlay::from_subj_and_clip(contour(one).as_slice(), contour(other).as_slice())
        .overlay(OverlayRule::Intersect, FillRule::NonZero)
        .area_two()
        .abs()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn a_search_is_no_longer_than_its_start_and_no_shorter_than_can_be(
        parts in some_parts(), usable in 310_i64..900, spacing in 0_i64..6, seed: u64,
    ) {
        let cloth = cloth(usable, spacing);
        let start = first(&parts, cloth).unwrap();
        let found = searched(&parts, cloth, budget(POSITIONS, seed), None).lay;
        let more = searched(&parts, cloth, budget(POSITIONS * 2, seed), None).lay;
        prop_assert!(found.length() <= start.length());
        prop_assert!(more.length() <= found.length());
        prop_assert!(more.length().get() >= least(&parts, cloth));
        prop_assert_eq!((found.cloth(), found.parts()), (cloth, parts.as_slice()));
    }

    #[test]
    fn wider_cloth_fewer_parts_and_more_ways_never_need_more(
        parts in some_parts(), usable in 310_i64..900, wider in 0_i64..300, seed: u64,
    ) {
        let one_way = LayCloth { ways: Ways::One, ..cloth(usable, 3) };
        let tight = first(&parts, one_way).unwrap();
        let length = |parts: &[LayPart], cloth, known| {
            searched(parts, cloth, budget(200, seed), Some(known)).lay.length()
        };
        let roomy = LayCloth { usable: Micrometres::from_mm(usable + wider), ..one_way };
        prop_assert!(length(&parts, roomy, &tight) <= tight.length());
        prop_assert!(length(&parts, cloth(usable, 3), &tight) <= tight.length());
        let fewer: Vec<LayPart> = parts.iter().skip(1).cloned().collect();
        if !fewer.is_empty() {
            prop_assert!(length(&fewer, one_way, &tight) <= tight.length());
        }
    }

    #[test]
    fn a_foreign_library_finds_no_overlap(parts in some_parts(), usable in 310_i64..900, seed: u64) {
        let lay = searched(&parts, cloth(usable, 0), budget(POSITIONS, seed), None).lay;
        let placed: Vec<Outline> = lay
            .placements()
            .iter()
            .map(|placement| parts[placement.part].outline.placed(placement).unwrap())
            .collect();
        for (at, one) in placed.iter().enumerate() {
            for other in &placed[at + 1..] {
                prop_assert_eq!(shared(one, other), 0);
            }
        }
    }
}

/// One-way cloth is searched in one direction only, and never needs less than two-way cloth is known to.
#[test]
fn one_way_cloth_keeps_its_way() {
    let one_way = LayCloth {
        ways: Ways::One,
        ..cloth(1_400, 3)
    };
    let found = searched(&shirt(), one_way, budget(20_000, 1), None).lay;
    assert!(
        found
            .placements()
            .iter()
            .all(|placement| placement.turn.get() == 0)
    );
    let two_way = searched(&shirt(), cloth(1_400, 3), budget(20_000, 1), Some(&found)).lay;
    assert!(two_way.length() <= found.length());
}
