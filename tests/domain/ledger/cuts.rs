//! Cuts: where they lie, what they may take, and what becomes of flaws and promises.

use super::{cloth, drawn, flaw, flawed, flaws, holds, mm, money, promise, spans};
use ellwand_domain::{
    ledger::{CutOrder, LedgerError, Quantity},
    setting::End,
};

#[test]
fn a_cut_from_the_outer_end_shifts_the_flaws() {
    let mut piece = flawed(&[(4_000, 500), (8_000, 0)]);
    let effect = piece.cut(&CutOrder::free(mm(3_000))).unwrap();
    assert_eq!(
        (effect.value, effect.came_off),
        (money(30_000_000), End::Outer)
    );
    assert_eq!(
        (piece.quantity, piece.value),
        (mm(7_000), money(70_000_000))
    );
    assert_eq!(flaws(&piece.flaws), [(1_000, 500), (5_000, 0)]);
    assert_eq!(
        (effect.outer, effect.strip, effect.flaws),
        (None, None, vec![])
    );
}

#[test]
fn a_cut_from_the_inner_end_leaves_the_flaws() {
    let mut piece = flawed(&[(4_000, 500)]);
    promise(&mut piece, &[(1, 1, 2_500)]);
    let order = CutOrder {
        end: End::Inner,
        ..CutOrder::free(mm(3_000))
    };
    let effect = piece.cut(&order).unwrap();
    assert_eq!((effect.came_off, effect.outer), (End::Inner, None));
    assert_eq!(
        (spans(&piece), holds(&piece)),
        (vec![(0, 4_000), (4_500, 2_500)], vec![(1, 1, 2_500)])
    );
}

#[test]
fn a_cut_in_the_second_stretch_makes_a_piece_of_what_lies_before() {
    // 4 m | patch of 0.5 m | 5.5 m; the cut takes the first 3 m of the second stretch.
    let mut piece = flawed(&[(4_000, 500), (9_000, 0)]);
    promise(
        &mut piece,
        &[(1, 0, 3_500), (2, 1, 3_000), (3, 1, 1_000), (4, 2, 1_000)],
    );
    let effect = piece.cut(&drawn(2, 3_000)).unwrap();
    assert_eq!(
        (effect.value, effect.drawn, effect.still_held),
        (money(30_000_000), mm(3_000), mm(0))
    );
    let outer = effect.outer.unwrap();
    assert_eq!(
        (outer.quantity, outer.value),
        (mm(4_500), money(45_000_000))
    );
    assert_eq!(
        (flaws(&outer.flaws), holds(&outer)),
        (vec![(4_000, 500)], vec![(1, 0, 3_500)])
    );
    assert_eq!(
        (piece.quantity, piece.value),
        (mm(2_500), money(25_000_000))
    );
    assert_eq!(
        (flaws(&piece.flaws), holds(&piece)),
        (vec![(1_500, 0)], vec![(3, 0, 1_000), (4, 1, 1_000)])
    );
    assert_eq!(effect.broken, [0_i64; 0]);
}

#[test]
fn a_cut_in_the_middle_of_a_stretch_needs_its_place_free() {
    let at = |start: i64, length: i64| CutOrder {
        at: Some(mm(start)),
        ..CutOrder::free(mm(length))
    };
    let mut piece = cloth(10_000, 100_000_000);
    promise(&mut piece, &[(1, 0, 6_000)]);
    let before = piece.clone();
    let refused = piece.cut(&at(4_001, 2_000)).unwrap_err();
    let (free, longest_free) = (mm(4_000), mm(4_000));
    assert_eq!(
        refused,
        LedgerError::ExceedsAvailable {
            wanted: mm(2_000),
            free,
            longest_free,
            held_by: vec![1]
        },
        "4.001 m before and 3.999 m behind hold no 6 m"
    );
    assert_eq!(piece, before);
    let effect = piece.cut(&at(1_000, 3_000)).unwrap();
    let outer = effect.outer.unwrap();
    assert_eq!(
        (outer.quantity, outer.value, holds(&outer)),
        (mm(1_000), money(10_000_000), vec![])
    );
    assert_eq!(
        (piece.quantity, piece.value),
        (mm(6_000), money(60_000_000))
    );
    assert_eq!(holds(&piece), [(1, 0, 6_000)]);

    let mut piece = flawed(&[(5_000, 0)]);
    let crosses = LedgerError::CrossesFlaw {
        wanted: mm(2),
        longest_free: mm(5_000),
    };
    assert_eq!(piece.cut(&at(4_999, 2)), Err(crosses));
    let beyond = LedgerError::BeyondEnd {
        at: mm(10_001),
        on_hand: mm(10_000),
    };
    assert_eq!(piece.cut(&at(9_000, 1_001)), Err(beyond));
    assert_eq!(piece.cut(&at(9_000, 1_000)).unwrap().came_off, End::Inner);
    assert_eq!(piece.cut(&at(0, 1_000)).unwrap().came_off, End::Outer);
}

#[test]
fn a_promise_is_drawn_down_and_ends_with_the_last_cut() {
    let table = [
        (2_000, false, 2_000, 1_000),
        (2_000, true, 2_000, 0),
        (3_000, false, 3_000, 0),
    ];
    for (length, last, taken, left) in table {
        let mut piece = cloth(10_000, 100_000_000);
        promise(&mut piece, &[(1, 0, 3_000)]);
        let effect = piece
            .cut(&CutOrder {
                last,
                ..drawn(1, length)
            })
            .unwrap();
        assert_eq!((effect.drawn, effect.still_held), (mm(taken), mm(left)));
        assert_eq!(piece.held(), Ok(mm(left)));
    }
    let mut piece = cloth(10_000, 0);
    assert_eq!(piece.cut(&drawn(1, 1)), Err(LedgerError::NoSuchPromise));
    assert_eq!(piece.cut(&drawn(1, 0)), Err(LedgerError::Zero));
    let more = LedgerError::ExceedsOnHand {
        wanted: mm(10_001),
        on_hand: mm(10_000),
    };
    assert_eq!(piece.cut(&drawn(1, 10_001)), Err(more));
}

#[test]
fn more_than_the_promise_takes_free_cloth_only() {
    // 10 m: 3 m are its own, 5 m are promised to another, 2 m are free.
    let mut piece = cloth(10_000, 100_000_000);
    promise(&mut piece, &[(1, 0, 3_000), (2, 0, 5_000)]);
    let before = piece.clone();
    let refused = piece.cut(&drawn(1, 5_001)).unwrap_err();
    let (free, longest_free) = (mm(2_000), mm(2_000));
    let exceeds = LedgerError::ExceedsAvailable {
        wanted: mm(2_001),
        free,
        longest_free,
        held_by: vec![2],
    };
    assert_eq!(refused, exceeds);
    assert_eq!(piece, before);
    let effect = piece.cut(&drawn(1, 5_000)).unwrap();
    assert_eq!((effect.drawn, effect.still_held), (mm(3_000), mm(0)));
    assert_eq!(holds(&piece), [(2, 0, 5_000)]);
}

#[test]
fn only_promises_that_may_break_do_and_only_when_nothing_else_helps() {
    let breaking = |length: i64, may_break: &[i64]| CutOrder {
        may_break: may_break.to_vec(),
        ..CutOrder::free(mm(length))
    };
    // 5 m | 5 m, the first promised to 1, the second to 2.
    let full = || {
        let mut piece = flawed(&[(5_000, 0)]);
        promise(&mut piece, &[(1, 0, 5_000), (2, 1, 5_000)]);
        piece
    };
    let mut piece = full();
    let refused = piece.cut(&breaking(1_000, &[])).unwrap_err();
    let (free, longest_free) = (Quantity::ZERO, Quantity::ZERO);
    let held_by = vec![1, 2];
    assert_eq!(
        refused,
        LedgerError::ExceedsAvailable {
            wanted: mm(1_000),
            free,
            longest_free,
            held_by
        }
    );
    assert_eq!(
        piece.cut(&breaking(1_000, &[2])).unwrap().broken,
        [2],
        "cut from the second stretch"
    );

    let mut piece = cloth(8_000, 0);
    piece.mark_flaw(flaw(5_000, 0)).unwrap();
    promise(&mut piece, &[(1, 0, 4_000), (2, 1, 3_000)]);
    let effect = piece.cut(&breaking(3_000, &[2])).unwrap();
    assert_eq!(
        effect.broken,
        [2],
        "cut where the promise that may break lies, though the first is longer"
    );
    assert_eq!(
        (holds(&piece), spans(&piece)),
        (vec![(1, 0, 4_000)], vec![(0, 5_000)])
    );

    let mut piece = full();
    assert_eq!(
        piece.cut(&breaking(1_000, &[1])).unwrap().broken,
        [1],
        "though 1 was promised first"
    );
    assert_eq!(holds(&piece), [(2, 1, 5_000)]);

    let mut piece = flawed(&[(5_000, 0)]);
    promise(&mut piece, &[(1, 0, 5_000)]);
    assert_eq!(
        piece.cut(&breaking(5_000, &[1])).unwrap().broken,
        [0_i64; 0],
        "free cloth comes first"
    );

    let mut piece = cloth(10_000, 0);
    promise(&mut piece, &[(1, 0, 3_000), (2, 0, 3_000), (3, 0, 4_000)]);
    assert_eq!(
        piece.cut(&breaking(4_000, &[1, 2, 3])).unwrap().broken,
        [3],
        "rule 6: the last one gives way"
    );
}
