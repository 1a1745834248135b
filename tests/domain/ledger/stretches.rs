//! Flaws divide a piece into stretches.

use super::{cloth, flaw, flawed, flaws, holds, mm, promise, q, spans};
use ellwand_domain::ledger::{LedgerError, Piece};
use ellwand_domain::quantity::Millionths;

#[test]
fn flaws_divide_a_piece_of_10_m_into_stretches() {
    // Derived from design rules: positions run from the outer end; a line has no length.
    type Pairs<'a> = &'a [(i64, i64)];
    let table: &[(&str, Pairs, Pairs)] = &[
        ("none", &[], &[(0, 10_000)]),
        ("a line", &[(4_000, 0)], &[(0, 4_000), (4_000, 6_000)]),
        ("a patch", &[(4_000, 500)], &[(0, 4_000), (4_500, 5_500)]),
        ("a line at the outer end", &[(0, 0)], &[(0, 10_000)]),
        ("a line at the inner end", &[(10_000, 0)], &[(0, 10_000)]),
        (
            "patches at both ends",
            &[(0, 300), (9_800, 200)],
            &[(300, 9_500)],
        ),
        (
            "patches that touch",
            &[(4_000, 500), (4_500, 500)],
            &[(0, 4_000), (5_000, 5_000)],
        ),
        (
            "patches that overlap",
            &[(4_000, 500), (4_200, 100)],
            &[(0, 4_000), (4_500, 5_500)],
        ),
        (
            "a line where a patch ends",
            &[(4_000, 500), (4_500, 0)],
            &[(0, 4_000), (4_500, 5_500)],
        ),
        (
            "unsorted",
            &[(7_000, 0), (2_000, 0)],
            &[(0, 2_000), (2_000, 5_000), (7_000, 3_000)],
        ),
        ("all of it", &[(0, 10_000)], &[(10_000, 0)]),
    ];
    for (name, marks, stretches) in table {
        assert_eq!(spans(&flawed(marks)), *stretches, "{name}");
    }
}

#[test]
fn flaws_that_touch_become_one_and_say_each_note_once() {
    let mut piece = flawed(&[(4_000, 500)]);
    let mut hole = flaw(4_500, 500);
    hole.note = "hole".to_owned();
    piece.mark_flaw(hole).unwrap();
    piece.mark_flaw(flaw(4_900, 200)).unwrap();
    assert_eq!(flaws(&piece.flaws), [(4_000, 1_100)]);
    assert_eq!(piece.flaws[0].note, "stain; hole");
}

#[test]
fn a_flaw_lies_inside_the_piece() {
    let mut piece = cloth(10_000, 0);
    piece.mark_flaw(flaw(9_500, 500)).unwrap();
    let refused = piece.mark_flaw(flaw(9_500, 501)).unwrap_err();
    assert_eq!(
        refused,
        LedgerError::BeyondEnd {
            at: mm(10_001),
            on_hand: mm(10_000)
        }
    );
    assert!(piece.mark_flaw(flaw(-1, 1)).is_err());
    assert!(piece.mark_flaw(flaw(1, -1)).is_err());
    assert_eq!(flaws(&piece.flaws), [(9_500, 500)]);
    let mut buttons = Piece::new(2, q(6), None, Millionths::ZERO);
    assert_eq!(
        buttons.mark_flaw(flaw(0, 0)),
        Err(LedgerError::NotARectangle)
    );
}

#[test]
fn promises_follow_their_cloth_when_a_flaw_divides_it() {
    // 4 m | 4 m with 2 m promised in the second: a flaw at 1 m does not move it into 1 m … 4 m, where it would fit too.
    let mut piece = cloth(8_000, 0);
    piece.mark_flaw(flaw(4_000, 0)).unwrap();
    promise(&mut piece, &[(1, 1, 2_000)]);
    piece.mark_flaw(flaw(1_000, 0)).unwrap();
    assert_eq!(piece.settle(), Ok(vec![]));
    assert_eq!(holds(&piece), [(1, 2, 2_000)]);
    // With 2 + 2 m in the second and 3 m in the first, all three still fit.
    let mut piece = cloth(8_000, 0);
    piece.mark_flaw(flaw(4_000, 0)).unwrap();
    promise(&mut piece, &[(1, 1, 2_000), (2, 0, 3_000), (3, 1, 2_000)]);
    piece.mark_flaw(flaw(1_000, 0)).unwrap();
    assert_eq!(piece.settle(), Ok(vec![]));
    assert_eq!(holds(&piece), [(1, 2, 2_000), (2, 1, 3_000), (3, 2, 2_000)]);
    assert_eq!(piece.remove_flaw(0), Some(flaw(1_000, 0)));
    assert_eq!(piece.settle(), Ok(vec![]));
    assert_eq!(holds(&piece), [(1, 1, 2_000), (2, 0, 3_000), (3, 1, 2_000)]);
    assert_eq!(piece.remove_flaw(1), None);
}
