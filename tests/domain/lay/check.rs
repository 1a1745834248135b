use super::{at, both, cloth, outline, part, rectangle};
use ellwand_domain::{
    lay::{Lay, LayCloth, LayError, LayPart, Outline, Placement, Point, Turn, Ways},
    quantity::Micrometres,
    setting::Grain,
};

/// Parts may touch in every way, and not overlap by a micrometre; each drawn and judged by hand.
#[test]
fn parts_may_touch_and_not_overlap() {
    let square = outline(&[(0, 0), (10, 0), (10, 10), (0, 10)]);
    let diamond = outline(&[(10, 5), (15, 0), (20, 5), (15, 10)]);
    let notched = outline(&[
        (0, 0),
        (10, 0),
        (10, 10),
        (7, 10),
        (7, 4),
        (3, 4),
        (3, 10),
        (0, 10),
    ]);
    let cases: [(&str, &Outline, Outline, bool); 17] = [
        ("far apart", &square, rectangle(10, 10).moved(30, 0), false),
        (
            "edge on edge",
            &square,
            rectangle(10, 10).moved(10, 0),
            false,
        ),
        (
            "one micrometre over",
            &square,
            rectangle(10, 10).moved(9, 0),
            true,
        ),
        (
            "a collinear stretch",
            &square,
            rectangle(4, 10).moved(10, 7),
            false,
        ),
        (
            "corner on corner",
            &square,
            rectangle(4, 4).moved(10, 10),
            false,
        ),
        ("corner on edge", &square, diamond.clone(), false),
        ("corner over edge", &square, diamond.moved(-1, 0), true),
        ("equal outlines", &square, square.clone(), true),
        ("inside", &square, rectangle(2, 2).moved(4, 4), true),
        (
            "inside, along an edge",
            &square,
            rectangle(2, 2).moved(8, 4),
            true,
        ),
        (
            "inside, in a corner",
            &square,
            rectangle(2, 2).moved(8, 8),
            true,
        ),
        ("a cross", &square, rectangle(20, 2).moved(-5, 4), true),
        // The edges of the diamond of 20 µm pass through the corners of the square.
        (
            "around, through its corners",
            &square,
            outline(&[(-5, 5), (5, -5), (15, 5), (5, 15)]),
            true,
        ),
        (
            "fills the notch",
            &notched,
            rectangle(4, 6).moved(3, 4),
            false,
        ),
        (
            "too wide for the notch",
            &notched,
            rectangle(5, 6).moved(3, 4),
            true,
        ),
        (
            "too deep for the notch",
            &notched,
            rectangle(4, 7).moved(3, 3),
            true,
        ),
        // Their edges run along one another on one side, each inside on its own side of the other.
        (
            "the same edge from the same side",
            &square,
            outline(&[(2, 0), (8, 0), (5, -6)]),
            false,
        ),
    ];
    for (name, one, other, overlaps) in cases {
        for (first, second) in [(one, &other), (&other, one)] {
            let laid = both(first, second, Point::new(100, 100));
            let found = matches!(laid, Err(LayError::Overlap { .. }));
            assert!(
                found == overlaps && (overlaps || laid.is_ok()),
                "{name}: {laid:?}"
            );
        }
    }
}

trait Moved {
    fn moved(&self, along: i64, across: i64) -> Outline;
}

impl Moved for Outline {
    fn moved(&self, along: i64, across: i64) -> Outline {
        let corner = |corner: &Point| (corner.along + along, corner.across + across);
        outline(&self.corners().iter().map(corner).collect::<Vec<_>>())
    }
}

/// Corners 3 and 4 mm apart each way are 5 mm from one another (3² + 4² = 5²).
#[test]
fn the_gap_between_parts_is_kept_to_the_micrometre() {
    let square = || rectangle(10_000, 10_000);
    let lay = |along, across, spacing| {
        let cloth = LayCloth {
            spacing: Micrometres::new(spacing).unwrap(),
            ..cloth(Micrometres::METRE, 0)
        };
        let parts = vec![part("one", square()), part("other", square())];
        Lay::new(cloth, parts, vec![at(0, 0, 0), at(1, along, across)])
    };
    for (along, across, spacing, holds) in [
        (13_000, 0, 3_000, true),
        (12_999, 0, 3_000, false),
        (0, 13_000, 3_000, true),
        (0, 12_999, 3_000, false),
        (13_000, 14_000, 5_000, true),
        (13_000, 14_000, 5_001, false),
        (10_000, 0, 0, true),
        (10_000, 0, 1, false),
    ] {
        let laid = lay(along, across, spacing);
        assert_eq!(laid.is_ok(), holds, "{along} {across} {spacing}: {laid:?}");
    }
    assert_eq!(
        lay(12_999, 0, 3_000).unwrap_err().to_string(),
        "one and other are nearer to one another than 0.3 cm"
    );
}

#[test]
fn a_lay_lies_inside_the_cloth() {
    let cuff = || vec![part("cuff", rectangle(300, 200))];
    let on = |length: Option<i64>, placement| {
        let cloth = LayCloth {
            length: length.map(|um| Micrometres::new(um).unwrap()),
            ..cloth(Micrometres::new(200).unwrap(), 0)
        };
        Lay::new(cloth, cuff(), vec![placement])
    };
    let lay = on(Some(300), at(0, 0, 0)).unwrap();
    assert_eq!(
        (lay.length().get(), lay.width().get(), lay.area_um2()),
        (300, 200, 60_000)
    );
    assert!(on(None, at(0, 5_000, 0)).is_ok());
    for (length, placement) in [
        (Some(299), at(0, 0, 0)),
        (Some(300), at(0, 1, 0)),
        (None, at(0, 0, 1)),
        (None, at(0, -1, 0)),
        (None, at(0, 0, -1)),
        (None, at(0, i64::MAX, i64::MIN)),
        (None, at(0, 1_000_000_000, 0)),
    ] {
        let refused = on(length, placement);
        assert!(
            matches!(refused, Err(LayError::Outside { .. })),
            "{refused:?}"
        );
    }
    let none = LayCloth {
        usable: Micrometres::ZERO,
        ..cloth(Micrometres::METRE, 0)
    };
    assert_eq!(Lay::new(none, Vec::new(), Vec::new()), Err(LayError::Cloth));
}

#[test]
fn each_part_lies_there_as_often_as_it_is_cut() {
    let parts = || {
        let cuff = LayPart {
            count: 2,
            ..part("cuff", rectangle(100, 100))
        };
        vec![cuff, part("yoke", rectangle(100, 100))]
    };
    let lay = |placements| Lay::new(cloth(Micrometres::METRE, 0), parts(), placements);
    assert!(lay(vec![at(0, 0, 0), at(1, 100, 0), at(0, 200, 0)]).is_ok());
    for (placements, text) in [
        (
            vec![at(0, 0, 0), at(1, 100, 0)],
            "cuff is cut 2 times and lies there 1 times",
        ),
        (
            vec![at(0, 0, 0), at(0, 100, 0)],
            "yoke is cut 1 times and lies there 0 times",
        ),
        (
            vec![at(0, 0, 0), at(2, 100, 0)],
            "placement 2 is of part 3, and there are 2",
        ),
    ] {
        assert_eq!(lay(placements).unwrap_err().to_string(), text);
    }
}

/// By hand, from the rule: a half turn is what nap forbids; bias is 45° to both grains.
#[test]
fn a_part_lies_as_its_grain_and_the_cloth_allow() {
    let allowed = |ways, grain, may_flip, turn, flipped| {
        let cloth = LayCloth {
            ways,
            ..cloth(Micrometres::METRE, 0)
        };
        let part = LayPart {
            grain,
            may_flip,
            ..part("front", rectangle(200, 100))
        };
        let turn = Turn::degrees(turn);
        let placement = Placement {
            part: 0,
            turn,
            flipped,
            at: Point::default(),
        };
        Lay::new(cloth, vec![part], vec![placement]).is_ok()
    };
    let turns = |ways, grain| -> Vec<u16> {
        (0..360)
            .filter(|turn| allowed(ways, grain, false, *turn, false))
            .collect()
    };
    assert_eq!(turns(Ways::Two, Grain::Lengthwise), [0, 180]);
    assert_eq!(turns(Ways::One, Grain::Lengthwise), [0]);
    assert_eq!(turns(Ways::Two, Grain::Crosswise), [90, 270]);
    assert_eq!(turns(Ways::One, Grain::Crosswise), [90]);
    assert_eq!(turns(Ways::Two, Grain::Bias), [45, 135, 225, 315]);
    assert_eq!(turns(Ways::One, Grain::Bias), [45, 315]);
    assert!(!allowed(Ways::Two, Grain::Lengthwise, false, 0, true));
    assert!(allowed(Ways::Two, Grain::Lengthwise, true, 0, true));
}

#[test]
fn a_kept_lay_is_checked_when_it_is_read() {
    let parts = vec![
        part("one", rectangle(10, 10)),
        part("two", rectangle(10, 10)),
    ];
    let lay = Lay::new(
        cloth(Micrometres::METRE, 0),
        parts,
        vec![at(0, 0, 0), at(1, 10, 0)],
    )
    .unwrap();
    let kept = serde_json::to_string(&lay).unwrap();
    assert_eq!(serde_json::from_str::<Lay>(&kept).unwrap(), lay);
    let lie = kept.replace(r#""at":[10,0]"#, r#""at":[9,0]"#);
    assert_ne!(lie, kept);
    let refused = serde_json::from_str::<Lay>(&lie).unwrap_err();
    assert!(
        refused.to_string().contains("one and two overlap"),
        "{refused}"
    );
}
