//! Measuring, splitting, and taking a cut or a split back.

use super::{cloth, drawn, flaw, flawed, flaws, holds, mm, money, promise, spans};
use ellwand_domain::{
    ledger::{CutEffect, CutOrder, LedgerError, Piece, Quantity},
    quantity::Millionths,
    setting::End,
};

fn take_back(piece: &mut Piece, cut: Quantity, effect: &CutEffect) {
    let strip = effect
        .strip
        .as_ref()
        .map_or(Millionths::ZERO, |strip| strip.value);
    let quantity = cut.plus(effect.wasted).unwrap();
    piece
        .put_back(
            quantity,
            effect.value.plus(strip).unwrap(),
            effect.came_off,
            &effect.flaws,
        )
        .unwrap();
    if let Some(outer) = &effect.outer {
        piece
            .put_back(outer.quantity, outer.value, End::Outer, &outer.flaws)
            .unwrap();
        piece.holds.extend(outer.holds.iter().copied());
    }
}

#[test]
fn measuring_keeps_the_value_and_the_places_of_the_flaws() {
    // (new length, scale, flaws then)
    type Row<'a> = (i64, bool, &'a [(i64, i64)]);
    let table: [Row; 4] = [
        (9_500, true, &[(3_800, 475), (7_600, 0)]),
        (11_000, true, &[(4_400, 550), (8_800, 0)]),
        (9_500, false, &[(4_000, 500), (8_000, 0)]),
        (4_200, false, &[(4_000, 200)]),
    ];
    for (length, scale, left) in table {
        let mut piece = flawed(&[(4_000, 500), (8_000, 0)]);
        piece.remeasure(mm(length), piece.rectangle, scale).unwrap();
        assert_eq!(
            (piece.quantity, piece.value),
            (mm(length), money(100_000_000))
        );
        assert_eq!(flaws(&piece.flaws), left);
    }
    let mut piece = flawed(&[(4_000, 500)]);
    let before = piece.clone();
    assert_eq!(piece.remeasure(mm(0), None, true), Err(LedgerError::Zero));
    assert_eq!(piece, before);
}

#[test]
fn an_empty_reel_is_used_up_and_what_carries_a_value_is_not() {
    let mut piece = flawed(&[(4_000, 500)]);
    let before = piece.clone();
    assert_eq!(piece.use_up(), Err(LedgerError::Zero));
    assert_eq!(piece, before);
    piece = cloth(10_000, 0);
    (piece.rectangle, piece.value) = (None, money(0));
    promise(&mut piece, &[(1, 0, 4_000)]);
    assert_eq!(piece.use_up(), Ok(()));
    assert_eq!((piece.quantity, piece.settle()), (mm(0), Ok(vec![1])));
}

#[test]
fn a_shorter_measure_breaks_promises_in_the_order() {
    let mut piece = cloth(10_000, 0);
    promise(&mut piece, &[(1, 0, 4_000), (2, 0, 3_000), (3, 0, 3_000)]);
    piece.remeasure(mm(9_999), piece.rectangle, false).unwrap();
    assert_eq!(piece.settle(), Ok(vec![3]));
    assert_eq!(holds(&piece), [(1, 0, 4_000), (2, 0, 3_000)]);
}

#[test]
fn a_split_shares_value_by_length_and_leaves_the_promises() {
    for (end, gone, kept) in [
        (End::Outer, vec![(2_000, 500), (2_990, 10)], vec![(0, 90)]),
        (End::Inner, vec![], vec![(2_000, 500), (2_990, 100)]),
    ] {
        let mut piece = flawed(&[(2_000, 500), (2_990, 100)]);
        promise(&mut piece, &[(1, 2, 3_000)]);
        let before = piece.clone();
        let made = piece.split(mm(3_000), end).unwrap();
        assert_eq!(
            (made.quantity, made.value, flaws(&made.flaws)),
            (mm(3_000), money(30_000_000), gone)
        );
        assert_eq!(
            (piece.quantity, piece.value, flaws(&piece.flaws)),
            (mm(7_000), money(70_000_000), kept)
        );
        piece
            .put_back(made.quantity, made.value, end, &made.flaws)
            .unwrap();
        assert_eq!(piece, before, "{end}");
    }
}

#[test]
fn a_split_is_refused_where_a_promise_would_break() {
    let mut piece = cloth(10_000, 0);
    promise(&mut piece, &[(1, 0, 6_000)]);
    let before = piece.clone();
    let (free, longest_free) = (mm(4_000), mm(4_000));
    let refused = LedgerError::ExceedsAvailable {
        wanted: mm(4_001),
        free,
        longest_free,
        held_by: vec![1],
    };
    assert_eq!(piece.split(mm(4_001), End::Outer), Err(refused));
    assert_eq!(piece.split(mm(0), End::Outer), Err(LedgerError::Zero));
    let whole = LedgerError::ExceedsOnHand {
        wanted: mm(10_000),
        on_hand: mm(10_000),
    };
    assert_eq!(piece.split(mm(10_000), End::Inner), Err(whole));
    assert_eq!(piece, before);
    assert!(piece.split(mm(4_000), End::Inner).is_ok());
}

#[test]
fn a_cut_taken_back_leaves_the_piece_as_it_was() {
    let start = || {
        let mut piece = flawed(&[(2_000, 0), (5_000, 500), (9_950, 50)]);
        promise(&mut piece, &[(1, 0, 1_000), (2, 1, 2_000), (3, 2, 4_000)]);
        piece
    };
    let free = |length| CutOrder::free(mm(length));
    let orders = [
        free(1_000),
        CutOrder {
            end: End::Inner,
            ..free(400)
        },
        CutOrder {
            at: Some(mm(2_500)),
            ..free(500)
        },
        CutOrder {
            at: Some(mm(5_500)),
            ..free(400)
        },
        drawn(1, 1_000),
        drawn(2, 2_000),
        drawn(3, 1_500),
    ];
    for order in orders {
        let (mut piece, before) = (start(), start());
        let effect = piece.cut(&order).unwrap();
        assert_eq!(effect.broken, [0_i64; 0]);
        take_back(&mut piece, order.quantity, &effect);
        assert_eq!(
            (piece.quantity, piece.value),
            (before.quantity, before.value),
            "{order:?}"
        );
        assert_eq!(piece.flaws, before.flaws, "{order:?}");
        let mut expected = holds(&before);
        for hold in &mut expected {
            if Some(hold.0) == order.reservation {
                hold.2 -= effect.drawn.get() / 1_000;
            }
        }
        expected.retain(|hold| hold.2 > 0);
        assert_eq!(holds(&piece), expected, "{order:?}");
        assert_eq!(piece.settle(), Ok(vec![]));
    }
}

#[test]
fn a_later_cut_does_not_stand_in_the_way_of_taking_back() {
    let mut piece = flawed(&[(5_000, 500), (8_000, 0)]);
    promise(&mut piece, &[(1, 1, 2_500), (2, 2, 1_000)]);
    let first = piece.cut(&CutOrder::free(mm(1_000))).unwrap();
    let second = piece.cut(&CutOrder::free(mm(2_000))).unwrap();
    take_back(&mut piece, mm(1_000), &first);
    assert_eq!(
        (piece.quantity, piece.value),
        (mm(8_000), money(80_000_000))
    );
    assert_eq!(flaws(&piece.flaws), [(3_000, 500), (6_000, 0)]);
    take_back(&mut piece, mm(2_000), &second);
    assert_eq!(
        (piece.quantity, piece.value),
        (mm(10_000), money(100_000_000))
    );
    assert_eq!(spans(&piece), [(0, 5_000), (5_500, 2_500), (8_000, 2_000)]);
    assert_eq!(holds(&piece), [(1, 1, 2_500), (2, 2, 1_000)]);
}

#[test]
fn a_whole_first_stretch_taken_back_keeps_the_promises_behind_it() {
    // 2 m | 3 m | 5 m: the promise of 1 m would fit the last stretch too, but its cloth is the middle one.
    let mut piece = flawed(&[(2_000, 0), (5_000, 0)]);
    promise(&mut piece, &[(1, 1, 1_000), (2, 2, 2_000)]);
    let before = piece.clone();
    let effect = piece.cut(&CutOrder::free(mm(2_000))).unwrap();
    assert_eq!(spans(&piece), [(0, 3_000), (3_000, 5_000)]);
    assert_eq!(holds(&piece), [(1, 0, 1_000), (2, 1, 2_000)]);
    take_back(&mut piece, mm(2_000), &effect);
    assert_eq!(piece, before);
}

#[test]
fn waste_comes_back_with_its_flaws() {
    for end in [End::Outer, End::Inner] {
        let mut piece = cloth(1_000, 10_000_000);
        let at = if end == End::Outer { 950 } else { 20 };
        piece.mark_flaw(flaw(at, 10)).unwrap();
        let before = piece.clone();
        let order = CutOrder {
            end,
            waste_up_to: mm(100),
            ..CutOrder::free(mm(900))
        };
        let effect = piece.cut(&order).unwrap();
        assert_eq!(
            (effect.wasted, flaws(&effect.flaws)),
            (mm(100), vec![(at, 10)])
        );
        let mut apart = piece.clone();
        take_back(&mut piece, mm(900), &effect);
        assert_eq!(piece, before, "{end}");
        // The waste first and the cut in front of it comes to the same.
        apart
            .put_back(effect.wasted, Millionths::ZERO, End::Inner, &[])
            .unwrap();
        apart
            .put_back(mm(900), effect.value, effect.came_off, &effect.flaws)
            .unwrap();
        assert_eq!(apart, before, "{end}");
    }
}
