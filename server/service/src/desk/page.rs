//! Pages of lists: how many rows, and cursors that were not handed out here.

use crate::desk::failure::Done;
use ellwand_contract::{Problem, ProblemType};

/// A filter, cursor or page size that is not accepted.
pub(crate) fn refused(field: &str, detail: impl std::fmt::Display) -> Problem {
    Problem::new(ProblemType::InvalidQuery, detail.to_string()).field(field)
}

/// Rows of a page.
pub(crate) fn rows(asked: Option<u32>, usual: u32, most: u32) -> Done<u32> {
    match asked.unwrap_or(usual) {
        rows if (1..=most).contains(&rows) => Ok(rows),
        rows => {
            let detail = format!("a page cannot have {rows} rows; it has from 1 to {most}");
            Err(refused("limit", detail)
                .hint("ask for fewer and continue with the cursor")
                .with("wanted", rows)
                .with("most", most)
                .into())
        }
    }
}
