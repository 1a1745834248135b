//! What the workshop says of itself at the head of quotations and receipts.

use crate::{
    desk::failure::{Done, invalid},
    people::parties::clean_name,
    workshop::fault,
};
use ellwand_contract::{json, quotations::Sender, workshop::SetWorkshop};
use ellwand_storage::Workshop;

/// Lines of an address, at most: with the name they leave the sheet its page.
const MOST_LINES: usize = 8;

/// The head as it is asked for; an empty text removes a line.
pub(super) fn changed(before: &Sender, asked: &SetWorkshop) -> Done<Sender> {
    let line = |field, asked: &Option<String>, before: &Option<String>| match asked {
        None => Ok(before.clone()),
        Some(text) if text.trim().is_empty() => Ok(None),
        Some(text) => clean_name(field, text).map(Some),
    };
    Ok(Sender {
        name: line("name", &asked.name, &before.name)?,
        address: match &asked.address {
            None => before.address.clone(),
            Some(lines) => address(lines)?,
        },
        telephone: line("telephone", &asked.telephone, &before.telephone)?,
        tax_number: line("tax_number", &asked.tax_number, &before.tax_number)?,
        account: line("account", &asked.account, &before.account)?,
        logo: before.logo,
    })
}

/// The address as it is kept: its lines; empty ones are left out.
fn address(lines: &[String]) -> Done<Vec<String>> {
    let lines = lines
        .iter()
        .flat_map(|line| line.lines())
        .filter(|line| !line.trim().is_empty());
    let lines: Vec<String> = lines
        .map(|line| clean_name("address", line))
        .collect::<Done<_>>()?;
    if lines.len() > MOST_LINES {
        let detail = format!(
            "an address of {} lines leaves no room for the quotation; {MOST_LINES} is the most",
            lines.len()
        );
        return Err(invalid("address", detail)
            .with("wanted", lines.len())
            .with("most", MOST_LINES));
    }
    Ok(lines)
}

/// The head as it is kept.
pub(crate) fn sender(workshop: &Workshop) -> Done<Sender> {
    json::read(&workshop.head).map_err(fault)
}
