//! The workshop's own name and address, as they stand at the head of quotations.

use crate::{
    desk::failure::{Done, invalid},
    people::parties::clean_name,
};
use ellwand_contract::quotations::Sender;
use ellwand_storage::Workshop;

/// Lines of an address, at most: with the name they leave the sheet its page.
const MOST_LINES: usize = 8;

/// The name as it is kept; an empty one is none.
pub(super) fn name(text: &str) -> Done<String> {
    if text.trim().is_empty() {
        Ok(String::new())
    } else {
        clean_name("name", text)
    }
}

/// The address as it is kept: its lines; empty ones are left out.
pub(super) fn address(lines: &[String]) -> Done<String> {
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
    Ok(lines.join("\n"))
}

/// Name and address as they are kept.
pub(crate) fn sender(workshop: &Workshop) -> Sender {
    Sender {
        name: Some(workshop.name.clone()).filter(|name| !name.is_empty()),
        address: workshop.address.lines().map(str::to_owned).collect(),
    }
}
