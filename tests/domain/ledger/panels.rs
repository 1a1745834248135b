//! Panels and the value that a cut takes along.

use super::{cloth, drawn, flaw, mm, money, promise};
use ellwand_domain::{
    ledger::{CutOrder, LedgerError, Panel, Piece, Quantity, Rectangle},
    quantity::Micrometres,
    setting::{End, OffcutValue},
};

fn panel(length_mm: i64, width_mm: i64, keep_strip: bool, strip_value: OffcutValue) -> CutOrder {
    let width = Micrometres::from_mm(width_mm);
    CutOrder {
        panel: Some(Panel {
            width,
            keep_strip,
            strip_value,
        }),
        ..CutOrder::free(mm(length_mm))
    }
}

#[test]
fn a_panel_takes_its_area_and_the_strip_beside_it_is_kept_or_waste() {
    // Derived: 2.00 m × 1.40 m worth 56.00 is 20.00 the square metre; the panel 0.50 m × 0.60 m.
    let table = [
        (true, OffcutValue::Area, 6_000_000, Some(8_000_000)),
        (true, OffcutValue::Zero, 14_000_000, Some(0)),
        (false, OffcutValue::Area, 14_000_000, None),
    ];
    for (keep, worth, garment, strip) in table {
        let mut piece = cloth(2_000, 56_000_000);
        let effect = piece.cut(&panel(500, 600, keep, worth)).unwrap();
        assert_eq!(effect.value, money(garment));
        assert_eq!(
            (piece.quantity, piece.value),
            (mm(1_500), money(42_000_000))
        );
        assert_eq!(
            effect.strip.as_ref().map(|strip| strip.value),
            strip.map(money)
        );
        if let Some(strip) = effect.strip {
            let (full, selvedges) = (Micrometres::from_mm(800), Micrometres::from_mm(10));
            assert_eq!(
                (strip.quantity, strip.rectangle),
                (mm(500), Some(Rectangle { full, selvedges }))
            );
        }
    }
}

#[test]
fn a_panel_is_no_wider_than_the_usable_width() {
    let mut piece = cloth(2_000, 56_000_000);
    promise(&mut piece, &[(1, 0, 2_000)]);
    let before = piece.clone();
    let refused = piece.cut(&panel(500, 1_391, true, OffcutValue::Area));
    assert_eq!(
        refused,
        Err(LedgerError::TooWide {
            wanted: mm(1_391),
            usable: mm(1_390)
        }),
        "the width is looked at before the promises"
    );
    assert_eq!(piece, before);
    piece.release(1).unwrap();
    let effect = piece
        .cut(&panel(500, 1_390, true, OffcutValue::Area))
        .unwrap();
    assert_eq!(effect.value, money(13_900_000));
    let mut buttons = Piece::new(2, Quantity::new(6).unwrap(), None, money(0));
    let order = CutOrder {
        quantity: Quantity::new(1).unwrap(),
        ..panel(1, 10, false, OffcutValue::Zero)
    };
    assert_eq!(buttons.cut(&order), Err(LedgerError::NotARectangle));
}

#[test]
fn a_washed_length_is_used_at_its_share_of_an_unchanged_value() {
    // Derived: 4.00 m for 125.61 wash to 3.80 m; 2.60 m cost 125.61 × 2.60 / 3.80, the rest by subtraction.
    let mut piece = cloth(4_000, 125_610_000);
    piece.remeasure(mm(3_800), piece.rectangle, true).unwrap();
    assert_eq!(piece.value, money(125_610_000));
    promise(&mut piece, &[(1, 0, 2_600)]);
    assert_eq!(
        piece.cut(&drawn(1, 2_600)).unwrap().value,
        money(85_943_684)
    );
    assert_eq!(
        piece.cut(&CutOrder::free(mm(400))).unwrap().value,
        money(13_222_105)
    );
    assert_eq!((piece.quantity, piece.value), (mm(800), money(26_444_211)));
    assert_eq!(
        piece.cut(&CutOrder::free(mm(800))).unwrap().value,
        money(26_444_211)
    );
    assert_eq!((piece.quantity, piece.value), (mm(0), money(0)));
}

#[test]
fn a_short_rest_is_waste_up_to_the_limit_and_unless_promised() {
    let order = CutOrder {
        waste_up_to: mm(100),
        ..CutOrder::free(mm(900))
    };
    let mut piece = cloth(1_000, 10_000_000);
    let effect = piece.cut(&order).unwrap();
    assert_eq!((effect.wasted, effect.value), (mm(100), money(10_000_000)));
    assert_eq!((piece.quantity, piece.value), (mm(0), money(0)));

    let mut longer = cloth(1_001, 10_010_000);
    let effect = longer.cut(&order).unwrap();
    assert_eq!((effect.wasted, effect.value), (mm(0), money(9_000_000)));
    assert_eq!((longer.quantity, longer.value), (mm(101), money(1_010_000)));

    let mut promised = cloth(1_000, 10_000_000);
    promise(&mut promised, &[(1, 0, 50)]);
    assert_eq!(promised.cut(&order).unwrap().wasted, mm(0));
    assert_eq!(promised.quantity, mm(100));

    let mut inner = cloth(1_000, 10_000_000);
    let effect = inner
        .cut(&CutOrder {
            end: End::Inner,
            ..order
        })
        .unwrap();
    assert_eq!((effect.wasted, effect.came_off), (mm(100), End::Outer));
}

/// Derived: 1.00 m worth 10.00, of which 30 cm are cut at 5 cm: 5 cm before it are waste as 5 cm behind it would be, and come
/// back with it.
#[test]
fn a_short_rest_before_the_cut_is_waste_too() {
    let at = |start: i64, length: i64, limit: i64| CutOrder {
        at: Some(mm(start)),
        waste_up_to: mm(limit),
        outer_waste_up_to: mm(limit),
        ..CutOrder::free(mm(length))
    };
    let mut piece = cloth(1_000, 10_000_000);
    piece.mark_flaw(flaw(10, 10)).unwrap();
    let before = piece.clone();
    let effect = piece.cut(&at(50, 300, 100)).unwrap();
    assert_eq!(
        (&effect.outer, effect.wasted, effect.value),
        (&None, mm(50), money(3_500_000))
    );
    assert_eq!(
        (piece.quantity, piece.value, effect.came_off),
        (mm(650), money(6_500_000), End::Outer)
    );
    piece
        .put_back(mm(350), effect.value, effect.came_off, &effect.flaws)
        .unwrap();
    assert_eq!(piece, before);

    let effect = piece.cut(&at(100, 300, 100)).unwrap();
    assert_eq!(
        (effect.outer, effect.wasted),
        (None, mm(100)),
        "as long as the limit"
    );
    let mut piece = before.clone();
    let effect = piece.cut(&at(101, 300, 100)).unwrap();
    assert_eq!(
        effect.outer.map(|outer| outer.quantity),
        Some(mm(101)),
        "a millimetre above it"
    );

    // Both ends: 5 cm before, 5 cm behind, with a flaw in each.
    let mut piece = before.clone();
    piece.mark_flaw(flaw(960, 10)).unwrap();
    let whole = piece.clone();
    let effect = piece.cut(&at(50, 900, 100)).unwrap();
    assert_eq!(
        (&effect.outer, effect.wasted, effect.value),
        (&None, mm(100), money(10_000_000))
    );
    assert!(piece.quantity.is_zero());
    piece
        .put_back(mm(1_000), effect.value, effect.came_off, &effect.flaws)
        .unwrap();
    assert_eq!(piece, whole);
}

/// Derived: of a promise of 60 cm, 55 cm are cut at 5 cm; what is left of it moves behind the cut where there is room, so that
/// no piece of 5 cm stays on the shelf with nothing free.
#[test]
fn what_is_promised_moves_out_of_a_short_rest_where_it_can() {
    let order = |length: i64| CutOrder {
        at: Some(mm(50)),
        waste_up_to: mm(100),
        outer_waste_up_to: mm(100),
        ..drawn(1, length)
    };
    let mut piece = cloth(1_000, 10_000_000);
    promise(&mut piece, &[(1, 0, 600)]);
    let effect = piece.cut(&order(550)).unwrap();
    assert_eq!(
        (effect.outer, effect.wasted, effect.still_held),
        (None, mm(50), mm(50))
    );
    assert_eq!((piece.quantity, piece.held()), (mm(400), Ok(mm(50))));

    // No room behind it: 5 cm are all that is left, and they stay promised.
    let mut piece = cloth(1_000, 10_000_000);
    promise(&mut piece, &[(1, 0, 1_000)]);
    let effect = piece.cut(&order(950)).unwrap();
    assert_eq!((effect.wasted, piece.held()), (mm(0), Ok(mm(50))));
}
