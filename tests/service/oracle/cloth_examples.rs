//! The oracle on cloth: a-19 and c-16 of the costing reference, washing by steps, the length of a promise.

use super::acts::{Act, Key, Kind, Leftover, Line, Method, PieceId};
use super::fraction::{ratio, up, whole};
use super::history::History;
use super::wash::{WashTest, held, left_between, test_for};

#[test]
fn a_wash_keeps_the_value_and_an_own_mistake_is_kept_apart() {
    // a-19, c-16 of the costing reference [D]: 4.00 m for 125.61, washed to 3.80 m, 2.60 m cut, 0.40 m cut wrong.
    let mut book = History::new(Method::Fifo);
    let garment = book.book(Act::Plan { count: 1 }).expect("planned");
    let line = Line {
        material: 1,
        kind: Kind::Cloth,
        quantity: 4_000_000,
        price: 125_61,
    };
    let bought = book
        .book(Act::Buy {
            lines: vec![line],
            charge: None,
        })
        .expect("bought");
    let piece = PieceId(bought, 0);
    book.book(Act::Wash {
        piece,
        length: 3_800_000,
    })
    .expect("washed");
    book.book(Act::Cut {
        garment,
        piece,
        quantity: 2_600_000,
        mistake: false,
    })
    .expect("cut");
    assert_eq!(book.stock.garments[&garment].material(), 85_943_684);
    book.book(Act::Cut {
        garment,
        piece,
        quantity: 400_000,
        mistake: true,
    })
    .expect("cut");
    assert_eq!(book.stock.garments[&garment].material(), 85_943_684);
    assert_eq!(book.stock.mistakes, 13_222_105);
    assert_eq!((book.stock.shelf() + 5_000) / 10_000, 26_44);
    let person = book.book(Act::Person { paid: false }).expect("known");
    book.book(Act::Pay {
        person,
        per_hour: 24_0000,
        from: None,
    })
    .expect("rated");
    book.book(Act::Overhead {
        cost: 6_50,
        hours: 1,
        from: None,
    })
    .expect("rated");
    book.book(Act::Work {
        garment,
        person,
        minutes: 630,
        day: 5,
        billable: true,
    })
    .expect("worked");
    let hours = book.hours(garment);
    assert_eq!(
        (hours.pay[&person].clone(), hours.overhead),
        (whole(252), ratio(6825, 100))
    );
}

#[test]
fn a_garment_given_up_puts_its_cloth_back_with_its_late_charge() {
    // Derived: wool 10 m = 100.00, 2 m cut, freight 10.00: the cut cloth carries 2.00 of it back to the shelf.
    let mut book = History::new(Method::Fifo);
    let garment = book.book(Act::Plan { count: 1 }).expect("planned");
    let line = Line {
        material: 1,
        kind: Kind::Cloth,
        quantity: 10_000_000,
        price: 100_00,
    };
    let bought = book
        .book(Act::Buy {
            lines: vec![line],
            charge: None,
        })
        .expect("bought");
    book.book(Act::Cut {
        garment,
        piece: PieceId(bought, 0),
        quantity: 2_000_000,
        mistake: false,
    })
    .expect("cut");
    book.book(Act::Charge {
        purchase: bought,
        key: Key::Value,
        amount: 10_00,
    })
    .expect("charged");
    let back = book
        .book(Act::Cancel {
            garment,
            leftover: Leftover::Shelf,
        })
        .expect("cancelled");
    assert_eq!(
        book.stock.places[&super::Place::Piece(PieceId(back, 0))].value,
        22_000_000
    );
    assert_eq!(
        (
            book.stock.shelf(),
            book.stock.cancelled,
            book.stock.adjustments
        ),
        (110_000_000, 0, 0)
    );
}

#[test]
fn each_wash_takes_its_own_step_of_the_test() {
    // Derived: 35 → 33 → 32.8 cm. 150 cm washed once and then again ends as if washed twice at once.
    let test = WashTest {
        before: vec![350],
        after: vec![vec![330], vec![328]],
    };
    let tests = [test];
    let once = left_between(&tests, 0, 1).expect("tested");
    let again = left_between(&tests, 1, 2).expect("tested");
    assert_eq!(&once * &again, ratio(328, 350));
    // The latest test with a reading at that number of washes, else the one that reaches furthest.
    let long = WashTest {
        before: vec![350],
        after: vec![vec![340], vec![330], vec![320]],
    };
    let short = WashTest {
        before: vec![350],
        after: vec![vec![345]],
    };
    let tests = [long, short];
    assert_eq!(
        test_for(&tests, 3).expect("tested").left(3),
        ratio(320, 350)
    );
    assert_eq!(
        test_for(&tests, 1).expect("tested").left(1),
        ratio(345, 350)
    );
    assert_eq!(
        test_for(&tests, 5).expect("tested").left(5),
        ratio(320, 350)
    );
}

#[test]
fn the_allowance_is_cut_after_the_wash_and_the_step_never_refuses() {
    // Derived: need 1.97 m, allowance 4 cm, 10 %: 2.01 / 0.9 = 2.2333… m; on 2.25 m the step fits, on 2.24 m not.
    let left = ratio(9, 10);
    assert_eq!(
        held(1_970_000, 40_000, &left, 50_000, 2_250_000),
        Some(2_250_000)
    );
    assert_eq!(
        held(1_970_000, 40_000, &left, 50_000, 2_240_000),
        Some(2_233_334)
    );
    assert_eq!(held(1_970_000, 40_000, &left, 50_000, 2_233_333), None);
    // a-2 of the textiles reference: 3.00 m at 5 % takes 3.1579 m (computed there).
    assert_eq!(up(&(whole(3_000_000) / ratio(95, 100))), 3_157_895);
}
