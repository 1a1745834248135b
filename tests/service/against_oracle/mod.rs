//! Random books, asked of the program and of an oracle that was written from the rules' text: after every act each
//! balance is the same to the millionth, what the text refuses is refused, and what it allows is done.
#![allow(
    clippy::inconsistent_digit_grouping,
    reason = "money is grouped before its cents"
)]

mod bought;
mod compare;
mod draw;
mod later;
mod promises;
mod real;
mod requests;

use crate::histories::{Draw, configuration};
use crate::oracle::acts::Leftover;
use crate::oracle::{Act, Kind, Line, Method, PieceId};
use draw::Driver;
use proptest::prelude::*;

fn play(method: Method, draws: &[Draw]) -> Result<(), TestCaseError> {
    let mut driver = Driver::new(method);
    for draw in draws {
        driver.act(*draw).map_err(|difference| {
            let acts = driver.real.log.join("\n  ");
            TestCaseError::fail(format!("{difference}\n{method:?}:\n  {acts}\n"))
        })?;
    }
    driver.real.book.audit();
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: configuration().cases / 2, ..configuration() })]

    #[test]
    fn a_book_is_what_the_text_says(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 15..40)) {
        let method = if average { Method::Average } else { Method::Fifo };
        play(method, &draws)?;
    }
}

/// 56 buttons, 14 and then 10 cut for a garment that is given up: all 56 lie on the shelf again (derived).
#[test]
fn two_cuts_of_one_card_go_back_to_it() {
    for method in [Method::Fifo, Method::Average] {
        let mut driver = Driver::new(method);
        let line = Line {
            material: 2,
            kind: Kind::Pooled,
            quantity: 56,
            price: 81_86,
        };
        driver
            .book(Act::Buy {
                lines: vec![line],
                charge: None,
            })
            .unwrap();
        let piece = PieceId(8, 0);
        for quantity in [14, 10] {
            driver
                .book(Act::Cut {
                    garment: 7,
                    piece,
                    quantity,
                    mistake: false,
                })
                .unwrap();
        }
        driver
            .book(Act::Cancel {
                garment: 7,
                leftover: Leftover::Shelf,
            })
            .unwrap();
        assert_eq!(driver.history.stock.pieces[&piece].quantity, 56);
        driver.real.book.audit();
    }
}
