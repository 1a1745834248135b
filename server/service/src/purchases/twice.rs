//! Asking about a purchase that was logged before.

use crate::desk::{
    Desk,
    failure::{Done, invalid},
};
use ellwand_contract::{Problem, ProblemType, purchases::Buy};
use ellwand_domain::code::PurchaseCode;

/// Refuses, until it is confirmed, the file of an earlier purchase, and an invoice of the same supplier, number and sum.
pub(super) fn check(
    desk: &mut Desk<'_>,
    buy: &Buy,
    (supplier, invoice, total): (Option<i64>, Option<&str>, i64),
) -> Done<()> {
    let is_hash = |text: &String| text.len() == 64 && text.bytes().all(|b| b.is_ascii_hexdigit());
    if buy.file_sha256.as_ref().is_some_and(|text| !is_hash(text)) {
        let detail = "a SHA-256 is 64 hexadecimal digits";
        return Err(invalid("file_sha256", detail));
    }
    if buy.really {
        return Ok(());
    }
    let same_file = match &buy.file_sha256 {
        Some(hash) => desk.tx.purchases_of_file(hash)?.into_iter().next(),
        None => None,
    };
    let same_invoice = match (supplier, invoice) {
        (Some(supplier), Some(invoice)) => {
            let known = desk.tx.purchases_of_invoice(supplier, invoice)?;
            known.into_iter().find(|row| row.invoice_minor == total)
        }
        _ => None,
    };
    let (row, what) = match (same_file, same_invoice) {
        (Some(row), _) => (row, "this file"),
        (None, Some(row)) => (row, "this invoice, to the same sum,"),
        (None, None) => return Ok(()),
    };
    let code = PurchaseCode::new(row.id);
    let detail = format!("{what} was logged as {code}, of {}", row.on_date);
    let hint = format!("see ellwand buy show {code}; if it came again, confirm with --really");
    let problem = Problem::new(ProblemType::NeedsConfirmation, detail).hint(hint);
    Err(problem.with("purchase", code.to_string()).into())
}
