//! The oracle's undo on pairs of acts with figures that a pencil can check.

use super::acts::{Act, ActId, Key, Kind, Leftover, Line, Method, PieceId, Place};
use super::history::History;
use super::undo::{Verdict, moves_a_charge};

fn buttons(quantity: i128, cents: i128) -> Act {
    Act::Buy {
        lines: vec![Line {
            material: 0,
            kind: Kind::Pooled,
            quantity,
            price: cents,
        }],
        charge: None,
    }
}

fn wool() -> Act {
    Act::Buy {
        lines: vec![Line {
            material: 1,
            kind: Kind::Cloth,
            quantity: 10_000_000,
            price: 100_00,
        }],
        charge: None,
    }
}

fn cut(garment: ActId, bought: ActId, quantity: i128) -> Act {
    Act::Cut {
        garment,
        piece: PieceId(bought, 0),
        quantity,
        mistake: false,
    }
}

fn book(method: Method, acts: impl IntoIterator<Item = Act>) -> History {
    let mut book = History::new(method);
    for act in acts {
        book.book(act)
            .expect("every act of an example can be booked");
    }
    book
}

const PLAN: Act = Act::Plan { count: 1 };
const FREIGHT: fn(ActId) -> Act = |purchase| Act::Charge {
    purchase,
    key: Key::Value,
    amount: 10_00,
};

#[test]
fn a_receipt_in_the_pool_stays_while_a_later_taking_stands() {
    // Derived: 100 for 100.00 and 100 for 1,000.00, 90 cut (495.00).
    let mut history = book(
        Method::Average,
        [
            PLAN,
            buttons(100, 100_00),
            buttons(100, 1_000_00),
            cut(0, 1, 90),
        ],
    );
    assert_eq!(history.stock.garments[&0].material(), 495_000_000);
    assert_eq!(history.verdict(1), Verdict::Refuse(Some(3)));
    assert_eq!(history.verdict(2), Verdict::Refuse(Some(3)));
    history.undo(3).expect("a cut is undone");
    assert_eq!(history.verdict(1), Verdict::Accept);
    history.undo(1).expect("and then the receipt");
    assert_eq!(history.stock.shelf(), 1_000_000_000);
}

#[test]
fn a_measure_stays_while_a_later_taking_from_its_layer_stands() {
    // Derived: two purchases of 100 for 100.00, the first counted as 20, 60 cut from the second's piece: 140.00.
    let acts = [
        PLAN,
        buttons(100, 100_00),
        buttons(100, 100_00),
        Act::Measure {
            piece: PieceId(1, 0),
            quantity: 20,
        },
    ];
    let mut history = book(Method::Fifo, acts);
    history.book(cut(0, 2, 60)).expect("cut");
    assert_eq!(history.stock.garments[&0].material(), 140_000_000);
    assert_eq!(history.verdict(3), Verdict::Refuse(Some(4)));
}

#[test]
fn charges_follow_each_receipt_through_the_pool() {
    // Derived: 100 for 100.00, 50 cut, freight 10.00: 55 / 55.
    let one = book(
        Method::Average,
        [PLAN, buttons(100, 100_00), cut(0, 1, 50), FREIGHT(1)],
    );
    assert_eq!(
        (
            one.stock.garments[&0].material(),
            one.stock.shelf(),
            one.stock.adjustments
        ),
        (55_000_000, 55_000_000, 0)
    );
    // Two such lots, 100 of 200 cut, freight 10.00 on each: 110 / 110.
    let acts = [
        PLAN,
        buttons(100, 100_00),
        buttons(100, 100_00),
        cut(0, 1, 100),
        FREIGHT(1),
        FREIGHT(2),
    ];
    let two = book(Method::Average, acts);
    assert_eq!(
        (two.stock.garments[&0].material(), two.stock.shelf()),
        (110_000_000, 110_000_000)
    );
}

#[test]
fn a_later_receipt_does_not_change_what_an_earlier_taking_carries() {
    // Derived: 100 for 100.00, 50 cut, 50 more bought for 50.00, 50 cut: the second cut has 25 of the first
    // receipt; freight 10.00 on that: 5.00, 2.50 and 2.50 on the shelf.
    let acts = [
        PLAN,
        PLAN,
        buttons(100, 100_00),
        cut(0, 2, 50),
        buttons(50, 50_00),
        cut(1, 2, 50),
        FREIGHT(2),
    ];
    let history = book(Method::Average, acts);
    let material = |garment| history.stock.garments[&garment].material();
    assert_eq!(
        (material(0), material(1), history.stock.shelf()),
        (55_000_000, 52_500_000, 52_500_000)
    );
}

#[test]
fn a_cut_is_undone_at_the_cost_it_left_with_and_later_cuts_stay() {
    // a-22 of the costing reference [C], and the rule that a later cut does not block: two layers at 1.00 and
    // 2.00, 60 cut, 60 cut (40 + 20 × 2 = 80.00), the first undone: the second keeps its 80.00.
    let acts = [
        PLAN,
        PLAN,
        buttons(100, 100_00),
        buttons(100, 200_00),
        cut(0, 2, 60),
        cut(1, 3, 60),
    ];
    let mut history = book(Method::Fifo, acts);
    assert_eq!(history.stock.garments[&1].material(), 80_000_000);
    assert_eq!(history.verdict(4), Verdict::Accept);
    history.undo(4).expect("undone");
    assert_eq!(
        (
            history.stock.garments[&0].material(),
            history.stock.garments[&1].material()
        ),
        (0, 80_000_000)
    );
    assert_eq!(history.stock.shelf(), 220_000_000);
}

#[test]
fn only_the_last_wash_is_undone_and_none_under_a_later_cut() {
    // Derived from the rule's "a value overwritten since" and "a taking after what changed the quantity".
    let wash = |length| Act::Wash {
        piece: PieceId(1, 0),
        length,
    };
    let mut history = book(
        Method::Fifo,
        [PLAN, wool(), wash(9_600_000), wash(9_500_000)],
    );
    assert_eq!(history.verdict(2), Verdict::Refuse(Some(3)));
    assert_eq!(history.verdict(3), Verdict::Accept);
    history.book(cut(0, 1, 1_000_000)).expect("cut");
    assert_eq!(history.verdict(3), Verdict::Refuse(Some(4)));
    history.undo(4).expect("undone");
    history.undo(3).expect("undone");
    assert_eq!(history.stock.pieces[&PieceId(1, 0)].quantity, 9_600_000);
}

#[test]
fn undoing_after_a_late_charge_brings_its_share_back() {
    // Derived: wool 10 m = 100.00, freight 10.00 after each; the history without the act.
    let mut history = book(Method::Fifo, [PLAN, PLAN, wool(), cut(0, 2, 2_000_000)]);
    history
        .book(Act::Cancel {
            garment: 0,
            leftover: Leftover::Into(1),
        })
        .expect("cancelled");
    history.book(FREIGHT(2)).expect("charged");
    assert_eq!(history.stock.garments[&1].material(), 22_000_000);
    assert!(moves_a_charge(&history, 4));
    history.undo(4).expect("undone");
    assert_eq!(
        (
            history.stock.garments[&0].material(),
            history.stock.garments[&1].material()
        ),
        (22_000_000, 0)
    );
    let mistake = Act::Cut {
        garment: 0,
        piece: PieceId(1, 0),
        quantity: 2_000_000,
        mistake: true,
    };
    let mut history = book(Method::Fifo, [PLAN, wool(), mistake, FREIGHT(1)]);
    assert_eq!(
        (history.stock.shelf(), history.stock.adjustments),
        (88_000_000, 2_000_000)
    );
    history.undo(2).expect("undone");
    assert_eq!(
        (
            history.stock.shelf(),
            history.stock.adjustments,
            history.stock.mistakes
        ),
        (110_000_000, 0, 0)
    );
    let finish = Act::Finish {
        garment: 0,
        good: 1,
        spoiled: 0,
    };
    let mut history = book(
        Method::Fifo,
        [PLAN, wool(), cut(0, 1, 2_000_000), finish, FREIGHT(1)],
    );
    assert_eq!(history.stock.adjustments, 2_000_000);
    history.undo(3).expect("undone");
    assert_eq!(
        (
            history.stock.adjustments,
            history.stock.garments[&0].material()
        ),
        (0, 22_000_000)
    );
}

#[test]
fn the_used_offcut_and_the_finished_garment_hold_what_made_them() {
    // Derived from the rule's "the offcut used; the garment finished".
    let mut history = book(Method::Fifo, [PLAN, PLAN, wool(), cut(0, 2, 2_000_000)]);
    let back = history
        .book(Act::Cancel {
            garment: 0,
            leftover: Leftover::Shelf,
        })
        .expect("cancelled");
    assert_eq!(history.verdict(3), Verdict::Refuse(Some(back)));
    assert_eq!(history.verdict(back), Verdict::Accept);
    let used = history
        .book(cut(1, back, 500_000))
        .expect("the offcut is used");
    assert_eq!(history.verdict(back), Verdict::Refuse(Some(used)));
    let finished = history
        .book(Act::Finish {
            garment: 1,
            good: 1,
            spoiled: 0,
        })
        .expect("finished");
    assert_eq!(history.verdict(used), Verdict::Refuse(Some(finished)));
    let place = Place::Piece(PieceId(back, 0));
    assert_eq!(
        (
            history.stock.places[&place].quantity,
            history.stock.places[&place].value
        ),
        (1_500_000, 15_000_000)
    );
}

#[test]
fn each_person_has_a_rate_and_the_first_one_holds_from_the_beginning() {
    // Derived: 2 h 30 of 21.00 and 2 h of 17.00 = 86.50; own hours without a rate take the owner's 24.00.
    let person = |paid| Act::Person { paid };
    let pay = |person, per_hour, from| Act::Pay {
        person,
        per_hour,
        from,
    };
    let work = |person, minutes, day| Act::Work {
        garment: 0,
        person,
        minutes,
        day,
        billable: true,
    };
    let acts = [
        PLAN,
        person(false),
        person(true),
        person(true),
        person(false),
        pay(1, 24_0000, None),
    ];
    let mut history = book(Method::Fifo, acts);
    for act in [
        pay(2, 21_0000, None),
        pay(2, 30_0000, Some(10)),
        pay(3, 17_0000, Some(5)),
    ] {
        history.book(act).expect("rated");
    }
    for act in [work(2, 150, -7), work(3, 120, 5), work(4, 60, 5)] {
        history.book(act).expect("worked");
    }
    let hours = history.hours(0);
    assert_eq!(hours.wages, super::fraction::ratio(8650, 100));
    assert_eq!(hours.pay[&4], super::fraction::whole(24));
    assert!(!hours.unrated);
    history
        .book(work(3, 60, 4))
        .expect("worked before the rate's day");
    assert!(history.hours(0).unrated);
}
