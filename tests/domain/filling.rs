//! Units of a need, counted from what is promised and cut: worked out by hand beside each.

use ellwand_domain::need::{Begun, Filling, Joining, Share, lengths_left};
use proptest::prelude::*;

/// Of piece and lot: cut and promised, a unit taking `size`.
fn share((piece, lot): (i64, i64), size: i64, cut: i64, promised: i64) -> Share {
    Share {
        piece,
        lot,
        size,
        width: None,
        cut,
        promised,
    }
}

const BY_LOT: Joining<'static> = Joining::Joined {
    one_lot: true,
    longest: None,
    rows: None,
};

fn longest(longest: i64) -> Joining<'static> {
    Joining::Joined {
        one_lot: false,
        longest: Some(longest),
        rows: None,
    }
}

#[test]
fn lengths_apart_count_by_themselves() {
    // 40 and 25 of two promises are no 60, and 100 of one that holds 20 more are two of 60 once it is cut.
    let shares = [
        share((1, 1), 60, 40, 0),
        share((1, 1), 60, 25, 0),
        share((1, 1), 60, 100, 20),
    ];
    let filling = Filling::of(4, Joining::Apart, &shares);
    assert_eq!((filling.cut, filling.open), (1, 2));
    assert_eq!(filling.promised, [0, 0, 1]);
    assert_eq!(filling.begun, []);
}

#[test]
fn trims_of_a_lot_make_sets() {
    // 4 of 7 are cut from one card; 3 of another complete a set, and 7 and 2 more make one and begin one.
    let shares = [
        share((1, 1), 7, 4, 0),
        share((2, 1), 7, 0, 3),
        share((3, 1), 7, 0, 9),
        share((4, 2), 7, 0, 6),
    ];
    let filling = Filling::of(4, BY_LOT, &shares);
    assert_eq!((filling.cut, filling.open), (0, 2));
    assert_eq!(filling.promised, [0, 1, 1, 0]);
    let begun = |lot, have, missing| Begun {
        lot,
        have,
        missing,
        lacks_longest: false,
    };
    assert_eq!(filling.begun, [begun(1, 2, 5), begun(2, 6, 1)]);
    // Four of six are cut when the need becomes four: that is a set.
    let smaller = Filling::of(1, BY_LOT, &[share((1, 1), 4, 4, 0)]);
    assert_eq!((smaller.cut, smaller.open), (1, 0));
}

#[test]
fn one_share_holds_the_longest_part() {
    // 3.5 m with a part of 1.8 m: 1.7 and 1.8 do, 1.75 twice do not, and 1.9 leaves 1.6 of any length.
    let of = |lengths: &[i64]| {
        let shares: Vec<Share> = (1..)
            .zip(lengths)
            .map(|(piece, length)| share((piece, piece), 3_500, 0, *length))
            .collect();
        Filling::of(1, longest(1_800), &shares)
    };
    assert_eq!(of(&[1_700, 1_800]).promised, [0, 1]);
    let short = of(&[1_750, 1_750]);
    assert_eq!((short.open, short.begun[0].missing), (1, 1_800));
    assert!(short.begun[0].lacks_longest);
    let begun = of(&[1_900]).begun[0];
    assert_eq!((begun.missing, begun.lacks_longest), (1_600, false));
}

#[test]
fn no_reel_gives_two_units() {
    let shares = [share((1, 1), 50, 0, 120), share((2, 1), 50, 50, 0)];
    let filling = Filling::of(3, Joining::PieceEach, &shares);
    assert_eq!((filling.cut, filling.open), (1, 1));
    assert_eq!(filling.promised, [1, 0]);
}

#[test]
fn what_is_cut_beyond_the_plan_is_reported() {
    let filling = Filling::of(1, Joining::Apart, &[share((1, 1), 100, 250, 100)]);
    assert_eq!((filling.cut, filling.beyond, filling.open), (1, 1, 0));
    assert_eq!(filling.promised, [0], "nothing more is wanted");
}

#[test]
fn lengths_that_are_left_are_whole_ones_and_a_rest() {
    assert_eq!(lengths_left(6, 100, 0), (6, 0));
    assert_eq!(lengths_left(6, 100, 150), (4, 50));
    assert_eq!(lengths_left(6, 100, 700), (0, 0));
    assert_eq!(lengths_left(6, 0, 700), (0, 0));
}

fn any_share() -> impl Strategy<Value = Share> {
    (1..4_i64, 1..3_i64, 0..30_i64, 0..30_i64)
        .prop_map(|(piece, lot, cut, promised)| share((piece, lot), 7, cut, promised))
}

fn any_joining() -> impl Strategy<Value = Joining<'static>> {
    let one_lot = any::<bool>();
    let longest = prop::option::of(1..9_i64);
    prop_oneof![
        Just(Joining::Apart),
        Just(Joining::PieceEach),
        (one_lot, longest).prop_map(|(one_lot, longest)| Joining::Joined {
            one_lot,
            longest,
            rows: None
        })
    ]
}

proptest! {
    #[test]
    fn units_are_cut_promised_or_open(
        units in 1..9_i64, joining in any_joining(), shares in prop::collection::vec(any_share(), 0..6)
    ) {
        let filling = Filling::of(units, joining, &shares);
        let promised: i64 = filling.promised.iter().sum();
        prop_assert_eq!(filling.cut + promised + filling.open, units);
        prop_assert!(filling.promised.iter().all(|units| *units >= 0));
        prop_assert!(filling.begun.iter().all(|begun| begun.missing > 0 && begun.have > 0));
    }

    #[test]
    fn cutting_what_is_promised_opens_nothing(
        units in 1..9_i64, joining in any_joining(), shares in prop::collection::vec(any_share(), 1..6)
    ) {
        let before = Filling::of(units, joining, &shares);
        let cut: Vec<Share> = shares
            .iter()
            .map(|share| Share { cut: share.cut + share.promised, promised: 0, ..*share })
            .collect();
        let after = Filling::of(units, joining, &cut);
        prop_assert_eq!(after.open, before.open);
        prop_assert_eq!(after.cut, units - before.open);
    }

    #[test]
    fn the_order_of_promises_changes_no_sum(
        units in 1..9_i64, joining in any_joining(), shares in prop::collection::vec(any_share(), 1..6)
    ) {
        let mut turned = shares.clone();
        turned.reverse();
        let sums = |shares: &[Share]| {
            let filling = Filling::of(units, joining, shares);
            (filling.cut, filling.open, filling.beyond)
        };
        prop_assert_eq!(sums(&shares), sums(&turned));
    }
}
