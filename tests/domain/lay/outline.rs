use super::{outline, rectangle};
use ellwand_domain::{
    lay::{Outline, OutlineError, Point, Turn},
    need::{Part, ShellMeasures},
    quantity::Micrometres,
    setting::{Grain, Measured, PartCut},
};
use proptest::prelude::*;

fn refused(corners: &[(i64, i64)]) -> OutlineError {
    Outline::new(corners.iter().copied().map(Point::from).collect()).unwrap_err()
}

/// Half of 40 × 30 is 600; by hand.
#[test]
fn an_outline_runs_against_the_clock_and_keeps_its_area() {
    let triangle = [(0, 0), (40, 0), (0, 30)];
    assert_eq!(outline(&triangle).twice_area_um2(), 1_200);
    let clockwise = outline(&[(0, 0), (0, 30), (40, 0)]);
    assert_eq!(clockwise.twice_area_um2(), 1_200);
    // A corner on a straight edge stands: notches and names rest on it.
    assert_eq!(
        outline(&[(0, 0), (20, 0), (40, 0), (0, 30)])
            .corners()
            .len(),
        4
    );
    // 10 × 10 less a notch of 4 × 2 that opens upwards.
    let notched = [
        (0, 0),
        (10, 0),
        (10, 10),
        (7, 10),
        (7, 8),
        (3, 8),
        (3, 10),
        (0, 10),
    ];
    assert_eq!(outline(&notched).twice_area_um2(), 2 * (100 - 8));
}

#[test]
fn what_is_no_outline_is_refused_with_one_clear_error() {
    let cases: [(&[(i64, i64)], &str); 9] = [
        (
            &[(0, 0), (9, 0)],
            "an outline has at least 3 corners, not 2",
        ),
        (
            &[(0, 0), (9, 0), (9, 9), (0, 0)],
            "corners 1 and 4 are in one place",
        ),
        // Two squares that hang together at a corner touch themselves there.
        (
            &[
                (0, 0),
                (4, 0),
                (4, 4),
                (8, 4),
                (8, 8),
                (4, 8),
                (4, 4),
                (0, 4),
            ],
            "corners 3 and 7 are in one place",
        ),
        (
            &[(0, 0), (5, 5), (9, 9)],
            "all corners lie on one line: the outline has no area",
        ),
        // A bow.
        (
            &[(0, 0), (9, 9), (9, 0), (0, 9)],
            "edges 1 and 3 meet: an outline does not cross or touch itself",
        ),
        // A corner on another edge.
        (
            &[(0, 0), (8, 0), (8, 8), (4, 0), (0, 8)],
            "edges 1 and 3 meet: an outline does not cross or touch itself",
        ),
        // A spike runs back over its own edge.
        (
            &[(0, 0), (9, 0), (5, 0), (5, 5)],
            "edges 1 and 2 meet: an outline does not cross or touch itself",
        ),
        // The same where the last edge meets the first.
        (
            &[(0, 0), (9, 0), (9, 5), (12, 0)],
            "edges 1 and 4 meet: an outline does not cross or touch itself",
        ),
        (
            &[(0, 0), (100_000_001, 0), (0, 9)],
            "corner 2 lies beyond 100.00 m of the outline's origin",
        ),
    ];
    for (corners, text) in cases {
        assert_eq!(refused(corners).to_string(), text);
    }
    assert_eq!(
        refused(&[(0, 0), (0, 9), (i64::MIN, 0)]),
        OutlineError::TooFar(3)
    );
    let many = vec![(0, 0); 10_001];
    assert_eq!(refused(&many), OutlineError::TooMany(10_001));
    assert_eq!(
        Outline::rectangle(Micrometres::METRE, Micrometres::ZERO),
        Err(OutlineError::NoArea)
    );
}

/// sin 30° = 1/2, sin 45° = 0.707 106 781 186 5…, sin 60° = 0.866 025 403 784 4… (from memory); rounded down by hand. These never change.
#[test]
fn a_turn_is_exact_by_quarters_and_else_rounded_down() {
    let metre = Point::new(1_000_000, 0);
    let across = Point::new(0, 1_000_000);
    for (degrees, point, along, weft) in [
        (0, metre, 1_000_000, 0),
        (90, metre, 0, 1_000_000),
        (180, metre, -1_000_000, 0),
        (270, metre, 0, -1_000_000),
        (90, across, -1_000_000, 0),
        (30, metre, 866_025, 500_000),
        (30, across, -500_000, 866_025),
        (45, metre, 707_106, 707_106),
        (45, across, -707_107, 707_106),
        (60, metre, 500_000, 866_025),
        (135, metre, -707_107, 707_106),
        (210, metre, -866_026, -500_000),
        (225, metre, -707_107, -707_107),
        (315, metre, 707_106, -707_107),
        (330, metre, 866_025, -500_000),
        (390, metre, 866_025, 500_000),
    ] {
        let turned = Turn::degrees(degrees).turned(point);
        assert_eq!(turned, Point::new(along, weft), "{degrees}°");
    }
}

#[test]
fn a_turned_outline_keeps_its_corners() {
    let hook = outline(&[(0, 0), (30, 0), (30, 10), (10, 10), (10, 20), (0, 20)]);
    let over = hook.turned(Turn::NONE, true).unwrap();
    assert_eq!(over.twice_area_um2(), hook.twice_area_um2());
    assert_eq!(over.bounds().least, Point::new(0, -20));
    let quarter = hook.turned(Turn::degrees(90), false).unwrap();
    assert_eq!(
        quarter.corners()[..3],
        [Point::new(0, 0), Point::new(0, 30), Point::new(-10, 30)]
    );
    // Four quarters and two times over are nothing.
    let mut round = hook.clone();
    for _ in 0..4 {
        round = round.turned(Turn::degrees(90), false).unwrap();
    }
    assert_eq!(round, hook);
    assert_eq!(over.turned(Turn::NONE, true).unwrap(), hook);
    // A micrometre long, its first edge closes at 45°: (0.7, 0.7) comes to lie at (0, 0).
    let sliver = outline(&[(0, 0), (1, 0), (1, 1)]);
    assert_eq!(
        sliver.turned(Turn::degrees(45), false),
        Err(OutlineError::Doubled(1, 2))
    );
}

/// The sines of the table against the addition rules: sin² + cos² = 1, and sin(a + b) by those of a and b.
#[test]
fn the_table_of_sines_agrees_with_itself() {
    let far = |degrees: i32| {
        // 100 m, the farthest corner: the table is seen to 1 µm there.
        let turned = Turn::degrees(u16::try_from(degrees.rem_euclid(360)).unwrap())
            .turned(Point::new(100_000_000, 0));
        (turned.along as f64 / 1e8, turned.across as f64 / 1e8)
    };
    for degrees in 0..360 {
        let (cosine, sine) = far(degrees);
        let angle = f64::from(degrees).to_radians();
        assert!((cosine - angle.cos()).abs() < 1.1e-8, "{degrees}°");
        assert!((sine - angle.sin()).abs() < 1.1e-8, "{degrees}°");
    }
}

#[test]
fn an_outline_is_kept_with_its_format() {
    let hook = outline(&[(0, 0), (30, 0), (30, 10)]);
    let kept = serde_json::to_string(&hook).unwrap();
    assert_eq!(kept, r#"{"format":1,"corners":[[0,0],[30,0],[30,10]]}"#);
    assert_eq!(serde_json::from_str::<Outline>(&kept).unwrap(), hook);
    for (text, why) in [
        (
            r#"{"format":2,"corners":[[0,0],[30,0],[30,10]]}"#,
            "outlines and lays of format 2 are not known; this is format 1",
        ),
        (
            r#"{"format":1,"corners":[[0,0],[30,0],[15,0]]}"#,
            "all corners lie on one line",
        ),
    ] {
        let refused = serde_json::from_str::<Outline>(text).unwrap_err();
        assert!(refused.to_string().contains(why), "{refused}");
    }
}

proptest! {
    /// A rectangle on the bias lies in the least whole square around it, whichever diagonal it follows.
    #[test]
    fn a_rectangle_at_45_degrees_lies_in_its_square(
        length in 10_i64..3_000_000, width in 10_i64..3_000_000, diagonal in 0_u16..4
    ) {
        let um = |um| Micrometres::new(um).unwrap();
        let shell = ShellMeasures { length: um(length), width: um(width), measured: Measured::With, allowance: None };
        let square = Part::new("strip", 1, shell, PartCut::With, Grain::Bias).unwrap().extent().unwrap().along.get();
        let turned = rectangle(length, width).turned(Turn::degrees(45 + 90 * diagonal), false).unwrap();
        let bounds = turned.bounds();
        let (along, across) = (bounds.most.along - bounds.least.along, bounds.most.across - bounds.least.across);
        prop_assert!(along <= square && across <= square && along >= square - 2 && across >= square - 2);
    }
}
