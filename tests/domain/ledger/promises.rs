//! Promises: made, given back, and settled in the order of rule 6.

use super::{cloth, day, flaw, flawed, holds, mm, promise, rank};
use chrono::NaiveDate;
use ellwand_domain::ledger::{Apart, Hold, LedgerError, Quantity, Rank};
use proptest::prelude::*;

#[test]
fn a_promise_takes_the_stretch_it_fits_most_closely() {
    // Stretches of 2.00, 5.00 and 3.00 m.
    let mut piece = flawed(&[(2_000, 0), (7_000, 0)]);
    let table = [
        (1, 2_500, 2),
        (2, 2_000, 0),
        (3, 1_000, 1),
        (4, 500, 2),
        (5, 4_000, 1),
    ];
    for (reservation, length, stretch) in table {
        assert_eq!(
            piece.reserve(mm(length), rank(reservation)),
            Ok(stretch),
            "{length} mm"
        );
    }
    assert_eq!(piece.free(), Ok(Quantity::ZERO));
    let mut even = flawed(&[(5_000, 0)]);
    assert_eq!(
        even.reserve(mm(1_000), rank(1)),
        Ok(0),
        "the outer one of equals"
    );
}

#[test]
fn a_promise_is_refused_by_the_first_broken_rule() {
    // 6.00 m and 4.00 m; 5.00 m of the first are promised: free 1.00 + 4.00.
    let mut piece = flawed(&[(6_000, 0)]);
    promise(&mut piece, &[(1, 0, 5_000)]);
    let before = piece.clone();
    let longest_free = mm(4_000);
    let exceeds = LedgerError::ExceedsAvailable {
        wanted: mm(6_000),
        free: mm(5_000),
        longest_free,
        held_by: vec![1],
    };
    let table = [
        (mm(0), LedgerError::Zero),
        (
            mm(10_001),
            LedgerError::ExceedsOnHand {
                wanted: mm(10_001),
                on_hand: mm(10_000),
            },
        ),
        (mm(6_000), exceeds),
        (
            mm(5_000),
            LedgerError::CrossesFlaw {
                wanted: mm(5_000),
                longest_free,
            },
        ),
    ];
    for (wanted, error) in table {
        assert_eq!(piece.reserve(wanted, rank(2)), Err(error));
        assert_eq!(piece, before);
    }
}

#[test]
fn the_last_free_micrometre_is_promised_and_the_next_is_refused() {
    let mut piece = cloth(10_000, 0);
    promise(&mut piece, &[(1, 0, 4_000)]);
    let border = Quantity::new(6_000_001).unwrap();
    let refused = piece.reserve(border, rank(2)).unwrap_err();
    let (free, longest_free) = (mm(6_000), mm(6_000));
    assert_eq!(
        refused,
        LedgerError::ExceedsAvailable {
            wanted: border,
            free,
            longest_free,
            held_by: vec![1]
        }
    );
    assert_eq!(piece.reserve(mm(6_000), rank(2)), Ok(0));
    assert_eq!(piece.release(2), Ok(mm(6_000)));
    assert_eq!(piece.release(2), Err(LedgerError::NoSuchPromise));
    assert_eq!(piece.resize_hold(2, mm(1)), Err(LedgerError::NoSuchPromise));
}

#[test]
fn the_order_is_quotation_then_due_date_then_day_promised_then_number() {
    let make = |accepted, due: Option<NaiveDate>, promised, reservation| Rank {
        accepted,
        due,
        promised: day(promised),
        reservation,
    };
    let sorted = [
        make(true, Some(day(20)), 9, 8),
        make(true, None, 1, 7),
        make(false, Some(day(10)), 9, 6),
        make(false, Some(day(11)), 3, 5),
        make(false, Some(day(11)), 4, 1),
        make(false, None, 2, 4),
        make(false, None, 3, 2),
        make(false, None, 3, 3),
    ];
    for pair in sorted.windows(2) {
        assert!(pair[0] < pair[1], "{pair:?}");
    }
    // Each wants all of the piece: only the first keeps it, the others break in the order.
    let mut piece = cloth(1_000, 0);
    for rank in sorted.iter().rev() {
        piece
            .holds
            .push(ellwand_domain::ledger::Hold::whole(0, mm(1_000), *rank));
    }
    assert_eq!(piece.settle(), Ok(vec![7, 6, 5, 1, 4, 2, 3]));
    assert_eq!(holds(&piece), [(8, 0, 1_000)]);
}

#[test]
fn a_later_promise_that_still_fits_stays_when_an_earlier_one_breaks() {
    let mut piece = cloth(3_000, 0);
    promise(&mut piece, &[(1, 0, 2_000), (2, 0, 1_500), (3, 0, 1_000)]);
    assert_eq!(piece.settle(), Ok(vec![2]));
    assert_eq!(holds(&piece), [(1, 0, 2_000), (3, 0, 1_000)]);
}

#[test]
fn promises_are_arranged_anew_before_one_breaks() {
    // 3 m and 4 m for 2 + 2 + 3 m: most closely, one by one, leaves no 3 m; 3 | 2 + 2 holds all.
    let mut piece = cloth(7_000, 0);
    piece.mark_flaw(flaw(3_000, 0)).unwrap();
    promise(&mut piece, &[(1, 9, 2_000), (2, 9, 2_000), (3, 9, 3_000)]);
    assert_eq!(piece.settle(), Ok(vec![]));
    assert_eq!(holds(&piece), [(1, 1, 2_000), (2, 1, 2_000), (3, 0, 3_000)]);
}

/// By hand: 2.025 m hold a promise that takes 2.05 m by the step and 2.01 m at least.
#[test]
fn rounding_up_to_the_step_gives_way_before_a_promise_breaks() {
    let mut piece = cloth(2_025, 0);
    promise(&mut piece, &[(1, 0, 2_250)]);
    piece.resize_hold_between(1, mm(2_010), mm(2_050)).unwrap();
    assert_eq!(
        (piece.settle(), holds(&piece)),
        (Ok(vec![]), vec![(1, 0, 2_010)])
    );
    // Where there is room for the rounding of one, the first in the order of rule 6 keeps it.
    let mut piece = cloth(4_080, 0);
    promise(&mut piece, &[(1, 0, 1), (2, 0, 1)]);
    for reservation in [1, 2] {
        piece
            .resize_hold_between(reservation, mm(2_010), mm(2_050))
            .unwrap();
    }
    assert_eq!(
        (piece.settle(), holds(&piece)),
        (Ok(vec![]), vec![(1, 0, 2_050), (2, 0, 2_010)])
    );
}

/// By hand: 1.09 m has no 1.10 m, and 1.082 m fit.
#[test]
fn a_new_promise_takes_the_step_where_the_cloth_is_there() {
    let mut piece = cloth(1_090, 0);
    let hold = piece
        .reserve_between(mm(1_082), mm(1_100), rank(1))
        .unwrap();
    assert_eq!((hold.least, hold.quantity), (mm(1_082), mm(1_082)));
    let mut piece = cloth(1_100, 0);
    assert_eq!(
        piece
            .reserve_between(mm(1_082), mm(1_100), rank(1))
            .unwrap()
            .quantity,
        mm(1_100)
    );
    let mut piece = cloth(1_081, 0);
    let refused = piece
        .reserve_between(mm(1_082), mm(1_100), rank(1))
        .unwrap_err();
    assert_eq!(
        refused,
        LedgerError::ExceedsOnHand {
            wanted: mm(1_082),
            on_hand: mm(1_081)
        }
    );
}

/// By hand: (1.00 + 0.04) ÷ 0.96 = 1.083334 m, held as 1.10 m. Of 2.17 m two of the least leave 3 mm, too little for a rounding of
/// 16.666 mm; of 2.185 m they leave 18.332 mm, enough for one of them.
#[test]
fn rounding_gives_way_to_an_act_and_comes_back_where_there_is_room() {
    let (least, most) = (Quantity::new(1_083_334).unwrap(), mm(1_100));
    let first = |length| {
        let mut piece = cloth(length, 0);
        piece.reserve_between(least, most, rank(1)).unwrap();
        piece
    };
    let mut short = first(2_170);
    let refused = short.clone().reserve_between(least, most, rank(2));
    assert!(
        matches!(refused, Err(LedgerError::ExceedsAvailable { .. })),
        "{refused:?}"
    );
    short
        .without_rounding(|piece| piece.reserve_between(least, most, rank(2)))
        .unwrap();
    assert_eq!(holds(&short), [(1, 0, 1_083), (2, 0, 1_083)]);
    let mut longer = first(2_185);
    longer
        .without_rounding(|piece| piece.reserve_between(least, least, rank(2)))
        .unwrap();
    assert_eq!(holds(&longer), [(1, 0, 1_100), (2, 0, 1_083)]);
    // What fits in neither way leaves the piece as it is.
    let before = short.clone();
    assert!(
        short
            .without_rounding(|piece| piece.reserve(mm(10), rank(3)))
            .is_err()
    );
    assert_eq!(short, before);
}

/// Derived: a measure of 2 m of a piece of 4 m leaves the flaws beyond it out; put back with it, they lie where they lay.
#[test]
fn flaws_beyond_a_length_are_counted_from_there() {
    let piece = flawed(&[(1_000, 100), (1_950, 100), (3_000, 30)]);
    let beyond: Vec<(i64, i64)> = piece
        .flaws_beyond(mm(2_000))
        .iter()
        .map(|flaw| (flaw.at, flaw.length))
        .collect();
    assert_eq!(beyond, [(0, 50_000), (1_000_000, 30_000)]);
}

/// By hand: 3.08 m hold 1.54 m twice, and 1.55 m and 1.54 m do not fit; 0.50 m that another holds stays where it lies.
#[test]
fn promises_of_one_request_make_room_for_one_another() {
    let mut piece = cloth(3_080, 0);
    piece
        .reserve_between(mm(1_540), mm(1_550), rank(1))
        .unwrap();
    let alone = piece
        .clone()
        .reserve_beside(mm(1_540), mm(1_550), rank(2), &[]);
    assert!(alone.is_err(), "what stood before gives way to nothing");
    let hold = piece
        .reserve_beside(mm(1_540), mm(1_550), rank(2), &[1])
        .unwrap();
    assert_eq!(
        (hold.quantity, holds(&piece)),
        (mm(1_540), vec![(1, 0, 1_540), (2, 0, 1_540)])
    );
    let mut piece = cloth(3_580, 0);
    piece.reserve(mm(500), rank(1)).unwrap();
    piece
        .reserve_between(mm(1_540), mm(1_550), rank(2))
        .unwrap();
    piece
        .reserve_beside(mm(1_540), mm(1_550), rank(3), &[2])
        .unwrap();
    assert_eq!(
        holds(&piece),
        vec![(1, 0, 500), (2, 0, 1_540), (3, 0, 1_540)]
    );
    let before = piece.clone();
    assert!(
        piece
            .reserve_beside(mm(1), mm(1), rank(4), &[2, 3])
            .is_err()
    );
    assert_eq!(piece, before, "a refusal changes nothing");
}

proptest! {
    /// What fits by the least of each is never broken, and nothing holds less than its least or more than its step.
    #[test]
    fn what_fits_at_the_least_is_kept(
        wants in prop::collection::vec((1_i64..2_000, 0_i64..50), 1..7), spare in 0_i64..200
    ) {
        let length: i64 = wants.iter().map(|(least, _)| least).sum();
        let mut piece = cloth(length + spare, 0);
        for (reservation, (least, rounding)) in (1_i64..).zip(&wants) {
            promise(&mut piece, &[(reservation, 0, least + rounding)]);
            piece.resize_hold_between(reservation, mm(*least), mm(least + rounding)).unwrap();
        }
        prop_assert_eq!(piece.settle(), Ok(vec![]));
        prop_assert!(piece.stretches().unwrap().iter().all(|stretch| stretch.held <= stretch.length));
        for (hold, (least, rounding)) in piece.holds.iter().zip(&wants) {
            prop_assert!(hold.quantity == mm(*least) || hold.quantity == mm(least + rounding));
        }
    }
}

/// Lengths of 1.05 m, of which 1.04 m serve.
fn apart(number: i64) -> Apart {
    Apart {
        number,
        most: mm(1_050),
        least: mm(1_040),
    }
}

#[test]
fn separate_lengths_lie_in_as_few_stretches_as_hold_them() {
    // By hand: six of 1.05 m do not lie in 5.00 m; four take 4.20 m of it, two 2.10 m of the other.
    let mut piece = flawed(&[(5_000, 0)]);
    let held = piece.reserve_apart(apart(6), rank(1), &[]).unwrap();
    let lie: Vec<_> = held
        .iter()
        .map(|hold| (hold.stretch, hold.quantity, hold.apart.unwrap().number))
        .collect();
    assert_eq!(lie, [(0, mm(4_200), 4), (1, mm(2_100), 2)]);
    // Nine do not fit: four to a stretch of 5.00 m. Nothing is held then.
    let mut piece = flawed(&[(5_000, 0)]);
    let refused = piece.reserve_apart(apart(9), rank(1), &[]);
    assert!(refused.is_err(), "{refused:?}");
    assert_eq!(piece.holds, []);
}

#[test]
fn a_promise_of_separate_lengths_loses_only_those_that_fit_nowhere() {
    // By hand: of 6.20 m five of 1.05 m stay (5.25 m), since six take 6.24 m at the least.
    let mut piece = cloth(6_200, 0);
    piece.reserve(mm(6_200), rank(1)).unwrap();
    piece
        .resize_hold_apart(1, mm(6_240), mm(6_300), Some(apart(6)))
        .unwrap();
    let lost = piece.settle_apart(&[]).unwrap();
    let number = |hold: &Hold| hold.apart.unwrap().number;
    assert_eq!(lost.iter().map(number).collect::<Vec<_>>(), [1]);
    assert_eq!(piece.holds.iter().map(number).collect::<Vec<_>>(), [5]);
    assert_eq!(piece.holds[0].quantity, mm(5_250));
    // Whole, it is lost whole.
    let mut piece = cloth(6_200, 0);
    piece.reserve(mm(6_200), rank(1)).unwrap();
    piece.resize_hold_between(1, mm(6_240), mm(6_300)).unwrap();
    assert_eq!(piece.settle().unwrap(), [1]);
}
