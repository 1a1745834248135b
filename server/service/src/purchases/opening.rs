//! What was there when the book began.

use crate::desk::failure::{Done, invalid};
use ellwand_contract::{Problem, purchases::Buy};

/// Refuses what only an invoice says.
pub(super) fn check(buy: &Buy) -> Done<()> {
    let field = if buy.supplier.is_some() {
        "supplier"
    } else if buy.invoice.is_some() {
        "invoice"
    } else if !buy.charges.is_empty() {
        "charge"
    } else {
        return Ok(());
    };
    let detail = format!("opening stock has no {field}: it was there before the book");
    Err(Problem::from(invalid(field, detail))
        .hint("leave it out, or log a purchase without --opening")
        .into())
}
