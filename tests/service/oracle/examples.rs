//! The oracle on the worked examples of the costing reference: a-6 to a-21, b-1 to b-10.

use super::acts::{Act, Key, Kind, Line, Method, PieceId, Refusal};
use super::fraction::{split, whole};
use super::history::History;
use super::purchase;

/// Minor units of a price with two digits.
fn pooled(quantity: i128, price: i128) -> Act {
    Act::Buy {
        lines: vec![Line {
            material: 0,
            kind: Kind::Pooled,
            quantity,
            price,
        }],
        charge: None,
    }
}

/// Books steps: `(+quantity, unit price in major units)` buys, `(-quantity, 0)` uses, from whichever pieces have it.
fn run(method: Method, steps: &[(i128, i128)]) -> (Vec<i128>, i128) {
    let mut book = History::new(method);
    let garment = book.book(Act::Plan { count: 1 }).expect("planned");
    let mut used = Vec::new();
    for (quantity, price) in steps {
        if *quantity > 0 {
            book.book(pooled(*quantity, quantity * price * 100))
                .expect("bought");
            continue;
        }
        let before = book.stock.garments[&garment].material();
        let mut open = -quantity;
        for piece in book.stock.pieces.keys().copied().collect::<Vec<_>>() {
            let here = book.stock.pieces[&piece].quantity.min(open);
            if here > 0 {
                book.book(Act::Cut {
                    garment,
                    piece,
                    quantity: here,
                    mistake: false,
                })
                .expect("cut");
                open -= here;
            }
        }
        used.push(book.stock.garments[&garment].material() - before);
    }
    (used, book.stock.shelf())
}

/// Steps as [`run`] takes them, what each use costs, and what is left.
type Case = (&'static [(i128, i128)], &'static [i128], i128);

/// Compares with a figure printed to four digits.
fn prints(millionths: i128, four_digits: i128) {
    assert_eq!((millionths + 50) / 100, four_digits);
}

#[test]
fn fifo_uses_the_oldest_layer_first() {
    // a-6, a-8, a-9, a-10, a-11 of the costing reference [F inputs, D outputs].
    let cases: [Case; 5] = [
        (&[(150, 10), (160, 12), (130, 15), (-390, 0)], &[4_620], 750),
        (
            &[(800, 50), (600, 52), (-400, 0), (-350, 0)],
            &[20_000, 17_500],
            33_700,
        ),
        (&[(110, 87), (140, 89), (-95, 0)], &[8_265], 13_765),
        (&[(105, 40), (150, 42), (-88, 0)], &[3_520], 6_980),
        (
            &[
                (240, 100),
                (-160, 0),
                (520, 103),
                (-400, 0),
                (400, 110),
                (-370, 0),
            ],
            &[16_000, 40_960, 39_300],
            25_300,
        ),
    ];
    for (steps, used, left) in cases {
        let (found, shelf) = run(Method::Fifo, steps);
        assert_eq!(
            found,
            used.iter()
                .map(|major| major * 1_000_000)
                .collect::<Vec<_>>(),
            "{steps:?}"
        );
        assert_eq!(shelf, left * 1_000_000, "{steps:?}");
    }
}

#[test]
fn the_average_is_struck_anew_at_each_receipt() {
    // a-6, a-7, a-8, a-9, a-10, a-11 of the costing reference, moving average [D], printed to four digits. The
    // reference gives them unrounded; a use from several pieces rounds once each, far below the fourth digit.
    let cases: [Case; 6] = [
        (
            &[(150, 10), (160, 12), (130, 15), (-390, 0)],
            &[47_597_727],
            6_102_273,
        ),
        (
            &[(1050, 22), (1020, 23), (1300, 26), (1200, 27), (-3670, 0)],
            &[905_534_354],
            222_065_646,
        ),
        (
            &[(800, 50), (600, 52), (-400, 0), (-350, 0)],
            &[203_428_571, 178_000_000],
            330_571_429,
        ),
        (
            &[(110, 87), (140, 89), (-95, 0)],
            &[83_714_000],
            136_586_000,
        ),
        (&[(105, 40), (150, 42), (-88, 0)], &[36_235_294], 68_764_706),
        (
            &[
                (240, 100),
                (-160, 0),
                (520, 103),
                (-400, 0),
                (400, 110),
                (-370, 0),
            ],
            &[160_000_000, 410_400_000, 397_873_333],
            247_326_667,
        ),
    ];
    for (steps, used, left) in cases {
        let (found, shelf) = run(Method::Average, steps);
        assert_eq!(found.len(), used.len());
        for (found, printed) in found.iter().zip(used) {
            prints(*found, *printed);
        }
        prints(shelf, left);
    }
}

#[test]
fn a_gift_is_worth_nothing_first_and_thins_the_average() {
    // a-15, a-16 of the costing reference [D]; lengths in micrometres.
    for (method, first, second, left) in [
        (Method::Fifo, 25_312_500, 34_687_500, 0),
        (Method::Average, 14_210_526, 31_578_947, 14_210_527),
    ] {
        let mut book = History::new(method);
        let garment = book.book(Act::Plan { count: 1 }).expect("planned");
        book.book(pooled(3_200_000, 60_00)).expect("bought");
        let gift = book.book(pooled(2_500_000, 0)).expect("given");
        let cut = |book: &mut History, piece, quantity| {
            let before = book.stock.garments[&garment].material();
            book.book(Act::Cut {
                garment,
                piece,
                quantity,
                mistake: false,
            })
            .expect("cut");
            book.stock.garments[&garment].material() - before
        };
        assert_eq!(cut(&mut book, PieceId(1, 0), 1_350_000), first);
        let mut rest = cut(&mut book, PieceId(1, 0), 1_850_000);
        rest += cut(&mut book, PieceId(gift, 0), 1_150_000);
        assert_eq!(rest, second);
        assert_eq!(book.stock.shelf(), left);
    }
}

#[test]
fn more_than_there_is_and_nothing_are_refused() {
    // a-17, a-18 of the costing reference [C].
    let mut book = History::new(Method::Fifo);
    let garment = book.book(Act::Plan { count: 1 }).expect("planned");
    let bought = book.book(pooled(1, 100)).expect("bought");
    let cut = |quantity| Act::Cut {
        garment,
        piece: PieceId(bought, 0),
        quantity,
        mistake: false,
    };
    assert_eq!(book.book(cut(2)), Err(Refusal::TooMuch));
    assert_eq!(book.book(cut(0)), Err(Refusal::Nothing));
    assert_eq!(book.book(pooled(0, 100)), Err(Refusal::Nothing));
    assert_eq!(book.book(pooled(1, -100)), Err(Refusal::Nothing));
    assert_eq!((book.acts.len(), book.stock.shelf()), (2, 1_000_000));
}

#[test]
fn the_last_use_takes_the_rest() {
    // a-21 of the costing reference [D]: 30 units for 3,400.00.
    let (used, left) = run(
        Method::Average,
        &[[(30, 0)].as_slice(), &[(-1, 0); 30]].concat(),
    );
    assert_eq!((used.len(), left), (30, 0));
    let mut book = History::new(Method::Fifo);
    let garment = book.book(Act::Plan { count: 1 }).expect("planned");
    let bought = book.book(pooled(30, 3_400_00)).expect("bought");
    for _ in 0..30 {
        let before = book.stock.garments[&garment].material();
        book.book(Act::Cut {
            garment,
            piece: PieceId(bought, 0),
            quantity: 1,
            mistake: false,
        })
        .expect("cut");
        let cents = (book.stock.garments[&garment].material() - before + 5_000) / 10_000;
        assert!(matches!(cents, 113_33 | 113_34), "{cents}");
    }
    assert_eq!(book.stock.garments[&garment].material(), 3_400_000_000);
    assert_eq!(book.stock.shelf(), 0);
}

#[test]
fn a_split_is_exact_and_the_first_of_equals_comes_first() {
    // b-1 to b-6, b-10 of the costing reference [F, D].
    let cases: [(i128, &[i128], &[i128]); 9] = [
        (10, &[6, 6, 2], &[4, 4, 2]),
        (100, &[1, 1, 1], &[34, 33, 33]),
        (5, &[3, 7], &[2, 3]),
        (999, &[4500, 3000, 2500], &[449, 300, 250]),
        (1000, &[3300, 5500, 1250], &[328, 547, 125]),
        (1295, &[8400, 2310, 675], &[955, 263, 77]),
        (-1000, &[1, 1, 1], &[-334, -333, -333]),
        (777, &[1, 1, 1], &[259, 259, 259]),
        (2, &[1, 1, 1], &[1, 1, 0]),
    ];
    for (total, weights, parts) in cases {
        let weights: Vec<_> = weights.iter().map(|weight| whole(*weight)).collect();
        assert_eq!(split(total, &weights), parts);
    }
}

#[test]
fn a_charge_lies_on_the_lines_by_its_key() {
    // b-7 (shipping 40 less discount 80, in dollars) and b-8 of the costing reference [F]; no weight at all: by quantity (b6) [C].
    let line = |quantity, price| Line {
        material: 0,
        kind: Kind::Pooled,
        quantity,
        price,
    };
    assert_eq!(
        purchase::landed(
            &[line(20, 400_00), line(20, 100_00)],
            Some((Key::Value, -40_00))
        ),
        [368_00, 92_00]
    );
    assert_eq!(
        purchase::landed(&[line(40, 2_400_00)], Some((Key::Quantity, 200_00))),
        [2_600_00]
    );
    assert_eq!(
        purchase::landed(&[line(3, 0), line(1, 0)], Some((Key::Value, 4_00))),
        [3_00, 1_00]
    );
}
