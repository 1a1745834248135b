//! Kept lays: what is refused, what counts at a width, and the form that they are stored in.

use super::{at, part, rectangle};
use ellwand_domain::{
    code::LayCode,
    lay::{KeptError, KeptLay, LaidParts, LayError, MOST_RUNGS, Placement, Turn, Ways},
    need::{KeptRung, Part, Parts, ShellMeasures, Uses, WidthLength},
    quantity::Micrometres,
    setting::{Grain, LengthBy, Measured, PartCut},
};
use proptest::prelude::*;

fn um(length: i64) -> Micrometres {
    Micrometres::new(length).unwrap()
}

/// Two of 40 × 30 cm and one of 20 × 10 cm.
fn laid() -> LaidParts {
    let mut large = part("large", rectangle(400_000, 300_000));
    large.count = 2;
    LaidParts {
        ways: Ways::One,
        spacing: Micrometres::ZERO,
        parts: vec![large, part("small", rectangle(200_000, 100_000))],
    }
}

/// Both beside one another on 60 cm, the small one behind them: 40 + 20 = 60 cm.
fn wide() -> Vec<Placement> {
    vec![at(0, 0, 0), at(0, 0, 300_000), at(1, 400_000, 0)]
}

/// One behind the other on 40 cm, the small one beside them: 80 cm.
fn narrow() -> Vec<Placement> {
    vec![at(0, 0, 0), at(0, 400_000, 0), at(1, 0, 300_000)]
}

#[test]
fn the_shortest_that_the_width_is_enough_for_counts() {
    let kept = KeptLay::new(
        &laid(),
        vec![(um(400_000), narrow()), (um(600_000), wide())],
    )
    .unwrap();
    let lengths: Vec<_> = kept.rungs().iter().map(|lay| lay.length().get()).collect();
    assert_eq!(lengths, [600_000, 800_000], "the widest first");
    let at = |usable| kept.at(um(usable)).map(|lay| lay.length().get());
    assert_eq!(
        [399_999, 400_000, 599_999, 600_000].map(at),
        [None, Some(800_000), Some(800_000), Some(600_000)]
    );
}

/// A placement list that lies, in each way that it can.
#[test]
fn what_cannot_be_cut_so_is_not_kept() {
    let usable = um(600_000);
    let refused = |placements| match KeptLay::new(&laid(), vec![(usable, placements)]) {
        Err(KeptError::Rung { error, .. }) => error,
        other => panic!("{other:?}"),
    };
    let with = |change: fn(&mut Vec<Placement>)| {
        let mut placements = wide();
        change(&mut placements);
        refused(placements)
    };
    let overlap = with(|all| all[2].at.along -= 1);
    assert!(matches!(overlap, LayError::Overlap { .. }), "{overlap}");
    let outside = with(|all| all[1].at.across += 1);
    assert!(matches!(outside, LayError::Outside { .. }), "{outside}");
    let other = with(|all| all[2].part = 2);
    assert!(matches!(other, LayError::NoSuchPart { .. }), "{other}");
    let fewer = with(|all| all.truncate(2));
    assert!(
        matches!(fewer, LayError::Count { placed: 0, .. }),
        "{fewer}"
    );
    let turned = with(|all| all[2].turn = Turn::degrees(180));
    assert!(matches!(turned, LayError::Direction { .. }), "{turned}");
    let over = with(|all| all[2].flipped = true);
    assert!(matches!(over, LayError::Flipped { .. }), "{over}");
}

#[test]
fn it_is_kept_for_some_widths_each_once() {
    let kept = |rungs| KeptLay::new(&laid(), rungs).unwrap_err();
    assert_eq!(kept(Vec::new()), KeptError::HowMany(0));
    let many = (0..=MOST_RUNGS).map(|more| (um(600_000 + more as i64), wide()));
    assert_eq!(kept(many.collect()), KeptError::HowMany(MOST_RUNGS + 1));
    let twice = vec![(um(600_000), wide()), (um(600_000), wide())];
    assert_eq!(kept(twice), KeptError::SameWidth(um(600_000)));
}

#[test]
fn it_is_read_as_it_was_stored() {
    let text = serde_json::to_string(&laid()).unwrap();
    assert_eq!(serde_json::from_str::<LaidParts>(&text).unwrap(), laid());
    let placements = serde_json::to_string(&wide()).unwrap();
    assert_eq!(
        serde_json::from_str::<Vec<Placement>>(&placements).unwrap(),
        wide()
    );
    let later = text.replacen("\"format\":1", "\"format\":2", 1);
    let refused = serde_json::from_str::<LaidParts>(&later).unwrap_err();
    assert!(refused.to_string().contains("format 2"), "{refused}");
}

fn jacket() -> Parts {
    let parts = [
        ("back", 1, 720, 520),
        ("front", 2, 720, 300),
        ("sleeve", 2, 620, 420),
        ("collar", 2, 460, 120),
    ];
    let parts = parts.map(|(name, count, length, width)| {
        let shell = ShellMeasures {
            length: Micrometres::from_mm(length),
            width: Micrometres::from_mm(width),
            measured: Measured::With,
            allowance: None,
        };
        Part::new(name, count, shell, PartCut::With, Grain::Lengthwise).unwrap()
    });
    Parts::new(parts.to_vec(), 1).unwrap()
}

const fn rung(lay: i64, width: i64, length: i64) -> KeptRung {
    KeptRung {
        lay: LayCode::new(lay),
        width: Micrometres::from_mm(width),
        length: Micrometres::from_mm(length),
    }
}

/// A kept lay counts before the maker's own, that before what is packed, and that before rows; a shorter one is said.
#[test]
fn what_counts_and_what_is_said_beside_it() {
    let own = WidthLength {
        width: Some(um(1_300_000)),
        length: um(1_450_000),
    };
    let parts = jacket().with_own(own).unwrap();
    let parts = parts.with_kept(vec![
        rung(1, 1_340, 1_500),
        rung(1, 1_313, 1_600),
        rung(2, 1_400, 1_400),
    ]);
    let by = |mm| {
        let laid = parts.laid(Micrometres::from_mm(mm)).unwrap();
        (
            laid.by,
            laid.kept.map(|kept| kept.lay.get()),
            laid.length.get() / 1_000,
        )
    };
    assert_eq!(by(1_400), (LengthBy::Kept, Some(2), 1_400));
    assert_eq!(by(1_399), (LengthBy::Kept, Some(1), 1_500));
    assert_eq!(by(1_320), (LengthBy::Kept, Some(1), 1_600));
    assert_eq!(by(1_312), (LengthBy::OwnLay, None, 1_450));
    // 134 cm by hand, beside `the_parts_of_a_jacket_lie_among_one_another`.
    assert_eq!(by(1_299), (LengthBy::Lay, None, 1_340));
    let units = ellwand_domain::quantity::Units::Metric;
    let steps = parts.laid(um(1_340_000)).unwrap().steps(units);
    assert!(
        steps
            .iter()
            .any(|step| step == "the kept lay Y1 of 1.50 m at 134 cm counts instead of the rows"),
        "{steps:?}"
    );
    assert!(
        steps
            .iter()
            .any(|step| step == "a shorter one is possible: 1.45 m at 134 cm"),
        "{steps:?}"
    );
}

/// What rests on a kept lay is never packed: it takes another rung, the own lay or rows (2.52 m). What was promised before a lay was
/// kept, or by one that is of other parts now, does not turn to it.
#[test]
fn a_promise_keeps_to_what_it_was_made_by() {
    let parts = jacket().with_kept(vec![rung(1, 1_340, 1_400), rung(1, 1_313, 1_500)]);
    let by = |lay: Option<i64>, mm| {
        let mut parts = parts.clone();
        parts.rest_on(lay.map(LayCode::new));
        let laid = parts.laid(Micrometres::from_mm(mm)).unwrap();
        (laid.by, laid.length.get() / 1_000)
    };
    assert_eq!(by(Some(1), 1_340), (LengthBy::Kept, 1_400));
    assert_eq!(by(Some(1), 1_313), (LengthBy::Kept, 1_500));
    assert_eq!(by(Some(1), 1_300), (LengthBy::Rows, 2_520));
    assert_eq!(by(None, 1_340), (LengthBy::Lay, 1_340));
    assert_eq!(by(Some(2), 1_340), (LengthBy::Lay, 1_340));
    assert_eq!(parts.uses_of(Some(LayCode::new(2))), Uses::NotKept);
}

/// 112 cm is all that the lay takes of 134 cm, so that it serves down to there. At 112 cm a narrower one follows at −1 % or less, and each
/// takes less of the width than the one before.
#[test]
fn a_ladder_has_a_rung_for_cloth_that_comes_out_narrower() {
    let lays = jacket().ladder(um(1_340_000)).unwrap();
    let rungs: Vec<_> = lays
        .iter()
        .map(|lay| (lay.width().get(), lay.length().get()))
        .collect();
    assert_eq!(rungs, [(1_120_000, 1_340_000)]);
    let narrow = jacket().ladder(um(1_120_000)).unwrap();
    assert_eq!(narrow[0].length(), um(1_340_000));
    assert!(narrow.len() > 1);
    for pair in narrow.windows(2) {
        assert!(pair[1].width() < pair[0].width());
        assert!(pair[1].cloth().usable <= um(1_108_800), "−1 % at least");
    }
    // The widest part takes 52 cm: what is narrower has no rung.
    assert_eq!(jacket().ladder(um(520_000)).unwrap().len(), 1);
}

proptest! {
    /// A wider cloth never needs more of kept lays.
    #[test]
    fn wider_cloth_never_needs_more(
        rungs in prop::collection::vec((1_i64..9, 520_i64..2_000, 1_000_i64..3_000), 1..9),
        widths in (520_i64..2_000, 520_i64..2_000),
    ) {
        let rungs = rungs.into_iter().map(|(lay, width, length)| rung(lay, width, length));
        let mut parts = jacket().with_kept(rungs.collect());
        parts.rest_on(parts.kept().first().map(|rung| rung.lay));
        let at = |mm| parts.laid(Micrometres::from_mm(mm)).unwrap();
        let (narrow, wide) = (at(widths.0.min(widths.1)), at(widths.0.max(widths.1)));
        prop_assert!(wide.length <= narrow.length || narrow.kept.is_none());
        prop_assert_eq!(wide.kept.is_some(), wide.by == LengthBy::Kept);
    }

    /// Whatever is packed is kept as it is, and read back the same.
    #[test]
    fn what_is_packed_is_kept(width in 520_i64..2_000) {
        let lays = jacket().ladder(Micrometres::from_mm(width)).unwrap();
        let laid = LaidParts { ways: Ways::One, spacing: Micrometres::ZERO, parts: jacket().lay_parts().unwrap() };
        let rungs = lays.iter().map(|lay| (lay.width(), lay.placements().to_vec()));
        let kept = KeptLay::new(&laid, rungs.collect()).unwrap();
        for (kept, lay) in kept.rungs().iter().zip(&lays) {
            prop_assert_eq!((kept.length(), kept.width()), (lay.length(), lay.width()));
            prop_assert!(lay.cloth().usable <= Micrometres::from_mm(width));
        }
    }
}
