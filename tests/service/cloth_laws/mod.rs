//! Laws of cloth that hold between two books, or between a book before and after, instead of expected numbers. They are read
//! from the rules' text; where the program breaks one, the text decides.

mod bench;
mod better;
mod counted_together;
mod panels;
mod reports;
mod sheets;
mod undoing;
mod units;
mod washing;

use crate::histories::configuration;
use proptest::prelude::*;

/// So many cases unless `PROPTEST_CASES` asks for others.
fn cases(usual: u32) -> ProptestConfig {
    let asked = ProptestConfig::default().cases;
    // 256 is what proptest takes where nothing is asked.
    ProptestConfig {
        cases: if asked == 256 { usual } else { asked },
        ..configuration()
    }
}
