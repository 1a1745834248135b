//! Taking a length off a piece for no garment.

use super::{cloth, flaws, holds, mm, money, promise};
use ellwand_domain::{
    ledger::{CutOrder, LedgerError, Panel},
    quantity::Micrometres,
    setting::{End, OffcutValue},
};

/// 10 m worth 100.00: 3 m take 30.00 off the outer end, with the flaws that lie there (derived).
#[test]
fn a_length_comes_off_the_outer_end_whatever_flaws_lie_in_it() {
    let mut piece = super::flawed(&[(1_000, 500), (2_800, 400), (8_000, 0)]);
    let before = piece.clone();
    let effect = piece.dispose(&CutOrder::free(mm(3_000))).unwrap();
    assert_eq!(
        (effect.value, piece.value),
        (money(30_000_000), money(70_000_000))
    );
    assert_eq!(flaws(&effect.flaws), [(1_000, 500), (2_800, 200)]);
    assert_eq!(
        (piece.quantity, flaws(&piece.flaws)),
        (mm(7_000), vec![(0, 200), (5_000, 0)])
    );
    piece
        .put_back(mm(3_000), effect.value, effect.came_off, &effect.flaws)
        .unwrap();
    assert_eq!(piece, before);
}

#[test]
fn all_of_it_takes_all_its_value_and_its_flaws() {
    let mut piece = super::flawed(&[(1_000, 500), (10_000, 0)]);
    let before = piece.clone();
    let effect = piece.dispose(&CutOrder::free(mm(10_000))).unwrap();
    assert_eq!((effect.value, piece.value), (money(100_000_000), money(0)));
    assert_eq!((piece.quantity, piece.flaws.len()), (mm(0), 0));
    piece
        .put_back(mm(10_000), effect.value, End::Outer, &effect.flaws)
        .unwrap();
    assert_eq!(piece, before);
}

/// A panel 80 cm wide of 1.40 m: the strip of 60 cm takes 60 ÷ 140 of the 14.00 that 1 m of 10 m for 140.00 is worth (derived).
#[test]
fn a_panel_leaves_the_strip_beside_it() {
    let mut piece = cloth(10_000, 140_000_000);
    let panel = Panel {
        width: Micrometres::from_mm(800),
        keep_strip: true,
        strip_value: OffcutValue::Area,
    };
    let order = CutOrder {
        panel: Some(panel),
        ..CutOrder::free(mm(1_000))
    };
    let effect = piece.dispose(&order).unwrap();
    let strip = effect.strip.unwrap();
    assert_eq!(
        (effect.value, strip.value),
        (money(8_000_000), money(6_000_000))
    );
    assert_eq!(piece.value, money(126_000_000));
    assert_eq!(strip.rectangle.unwrap().full, Micrometres::from_mm(600));
}

/// 10 m hold 4 m and 5 m: 1 m is free. Whose promise is named gives way, the other keeps its cloth.
#[test]
fn what_is_promised_is_kept_but_for_those_named() {
    let mut piece = cloth(10_000, 0);
    promise(&mut piece, &[(1, 0, 4_000), (2, 0, 5_000)]);
    let before = piece.clone();
    let refused = LedgerError::ExceedsAvailable {
        wanted: mm(3_000),
        free: mm(1_000),
        longest_free: mm(1_000),
        held_by: vec![2],
    };
    assert_eq!(piece.dispose(&CutOrder::free(mm(3_000))), Err(refused));
    assert_eq!(piece, before);
    // The first one ranks before the second, yet it is the one that is named.
    let order = CutOrder {
        may_break: vec![1],
        ..CutOrder::free(mm(3_000))
    };
    piece.dispose(&order).unwrap();
    let broken = piece.settle_apart(&order.may_break).unwrap();
    assert_eq!(
        broken
            .iter()
            .map(|hold| hold.reservation)
            .collect::<Vec<_>>(),
        [1]
    );
    assert_eq!(holds(&piece), [(2, 0, 5_000)]);
}

#[test]
fn more_than_there_is_and_nothing_are_refused() {
    let mut piece = cloth(10_000, 0);
    assert_eq!(
        piece.dispose(&CutOrder::free(mm(0))),
        Err(LedgerError::Zero)
    );
    let refused = LedgerError::ExceedsOnHand {
        wanted: mm(10_001),
        on_hand: mm(10_000),
    };
    assert_eq!(piece.dispose(&CutOrder::free(mm(10_001))), Err(refused));
}
