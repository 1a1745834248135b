//! What is asked about before it is believed of cloth.

use ellwand_domain::{
    cloth::{ClothDoubt, ClothFinding},
    shrinkage::{Direction, Ratio},
};

/// What is left of a million, lengthwise and crosswise.
fn left(lengthwise: i64, crosswise: i64) -> ClothFinding {
    let ratio = |after| Ratio::new(1_000_000, after).ok();
    ClothFinding {
        lengthwise: ratio(lengthwise),
        crosswise: ratio(crosswise),
        ..ClothFinding::default()
    }
}

fn messages(doubts: &[ClothDoubt]) -> Vec<String> {
    doubts.iter().map(ToString::to_string).collect()
}

/// Limits by common practice: a loss above 20 % lengthwise and 10 % crosswise, growth above 20 % of marks and 5 % of a piece.
/// The last value that is believed, and the first that is not.
#[test]
fn each_limit_is_believed_and_a_millionth_beyond_it_is_not() {
    let same = 1_000_000;
    for (lengthwise, crosswise, marks, piece) in [
        (800_000, same, 0, 0),
        (799_999, same, 1, 1),
        (same, 900_000, 0, 0),
        (same, 899_999, 1, 1),
        (1_200_000, same, 0, 1),
        (1_200_001, same, 1, 1),
        (1_050_000, 1_050_000, 0, 0),
        (1_050_001, 1_050_001, 0, 2),
        (799_999, 1_200_001, 2, 2),
    ] {
        let found = left(lengthwise, crosswise);
        assert_eq!(
            found.doubts_of_marks().len(),
            marks,
            "{lengthwise} {crosswise}"
        );
        assert_eq!(
            found.doubts_of_piece().len(),
            piece,
            "{lengthwise} {crosswise}"
        );
    }
}

/// By hand: 35 cm of which 1 mm is left lost 349/350 = 99.714 %, and 4 m of which 1 cm is left 99.75 %; shown rounded up to 0.1 %.
#[test]
fn a_doubt_says_how_much_and_what_is_usual() {
    let marks = ClothFinding {
        lengthwise: Ratio::new(350, 1).ok(),
        ..ClothFinding::default()
    };
    assert_eq!(
        messages(&marks.doubts_of_marks()),
        ["a loss of 99.8 % lengthwise (20 % at most is usual)"]
    );
    let barely = left(1_000_000, 899_999);
    assert_eq!(
        messages(&barely.doubts_of_piece()),
        ["a loss of 10.1 % crosswise (10 % at most is usual)"],
        "above the limit is shown above it"
    );
}

/// 153 cm of 150 cm are 2 % more (common practice); a strip of 60 cm that measures 70 cm is as wide as no lot.
#[test]
fn a_piece_is_not_wider_than_its_lot() {
    let wide = |before, after| ClothFinding {
        crosswise: Ratio::new(before, after).ok(),
        beside_lot: Ratio::new(1_500_000, after).ok(),
        ..ClothFinding::default()
    };
    assert!(wide(1_500_000, 1_530_000).doubts_of_piece().is_empty());
    assert_eq!(
        messages(&wide(1_500_000, 1_530_001).doubts_of_piece()),
        ["a width 2.1 % above its lot's (2 % at most is usual)"]
    );
    assert_eq!(
        messages(&wide(1_500_000, 5_000_000).doubts_of_piece()).len(),
        1,
        "said once"
    );
    let strip = wide(600_000, 700_000).doubts_of_piece();
    assert!(matches!(
        strip.as_slice(),
        [ClothDoubt::Growth {
            direction: Direction::Crosswise,
            ..
        }]
    ));
    // Washed it was 140 cm; the tape says 160 cm now.
    assert!(matches!(
        wide(1_400_000, 1_600_000).doubts_of_piece().as_slice(),
        [ClothDoubt::WiderThanLot { .. }]
    ));
}

/// Derived: a seller's 30 % that was confirmed once is not asked about again when it comes true.
#[test]
fn what_was_expected_is_no_doubt() {
    let expected = Ratio::new(1_000_000, 700_000).ok();
    let as_expected = ClothFinding {
        expected_lengthwise: expected,
        ..left(700_000, 1_000_000)
    };
    assert!(as_expected.doubts_of_piece().is_empty());
    let more = ClothFinding {
        expected_lengthwise: expected,
        ..left(699_999, 1_000_000)
    };
    assert_eq!(
        messages(&more.doubts_of_piece()),
        ["a loss of 30.1 % lengthwise (30 % at most is usual)"]
    );
    let little = ClothFinding {
        expected_lengthwise: Ratio::new(100, 99).ok(),
        ..left(800_000, 1_000_000)
    };
    assert!(
        little.doubts_of_piece().is_empty(),
        "a small expectation narrows nothing"
    );
}

/// By hand: 4.00 m that should have lost 5 % and measure 4.10 m grew 2.5 %, which of other cloth is believed.
#[test]
fn growth_is_no_small_thing_where_a_loss_was_expected() {
    let washed = |after: i64, expected: i64| ClothFinding {
        lengthwise: Ratio::new(4_000_000, after).ok(),
        expected_lengthwise: Ratio::new(1_000_000, expected).ok(),
        ..ClothFinding::default()
    };
    assert_eq!(
        messages(&washed(4_100_000, 950_000).doubts_of_piece()),
        ["a growth of 2.5 % lengthwise, where a loss of 5 % was expected"]
    );
    assert_eq!(
        messages(&washed(4_030_000, 996_000).doubts_of_piece()),
        ["a growth of 0.8 % lengthwise, where a loss of 0.4 % was expected"]
    );
    for (after, expected) in [
        // It lost nothing, which a careful wash may do.
        (4_000_000, 950_000),
        (4_100_000, 1_000_000),
        (4_100_000, 1_020_000),
        // 0.5 % more where 0.4 % less was expected is a slip of the tape.
        (4_020_000, 996_000),
    ] {
        assert_eq!(
            messages(&washed(after, expected).doubts_of_piece()),
            [""; 0],
            "{after} {expected}"
        );
    }
}
