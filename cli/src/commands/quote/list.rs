//! `ellwand quote list`.

use crate::{command_error::CommandError, context::Context, ui::Table, verb::Verb};
use ellwand_contract::quotations::{ListQuotations, QuotationHead, Quotations};

impl Verb for ListQuotations {
    fn show(&self, page: Quotations, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if page.quotations.is_empty() {
            context.ui.status("No quotations yet.");
            context
                .ui
                .hint("make one with ellwand quote make GARMENT --margin 35%");
            return Ok(());
        }
        let currency = page
            .quotations
            .first()
            .map_or("", |head| head.currency.as_str());
        let mut table = Table::headed(&format!(
            "quotation | garment | name | customer | valid until | >to pay {currency} | >paid | >owed | state"
        ));
        let unless_zero = |amount: &String| {
            let is_zero = amount.bytes().all(|byte| matches!(byte, b'0' | b'.'));
            if is_zero {
                String::new()
            } else {
                amount.clone()
            }
        };
        for head in &page.quotations {
            table.row([
                head.quotation.to_string(),
                head.garment.to_string(),
                name_with_supplement(head),
                head.customer_name.clone().unwrap_or_default(),
                head.valid_until.to_string(),
                if head.is_offer {
                    head.gross.clone()
                } else {
                    "not priced".to_owned()
                },
                unless_zero(&head.paid),
                unless_zero(&head.owed),
                head.state.to_string(),
            ]);
        }
        table.spare(&["valid until", "garment"]);
        context.ui.table(&table);
        if let Some(last) = page.quotations.last().filter(|_| page.more) {
            context.ui.hint(format!(
                "there are more: ellwand quote list --before {}",
                last.quotation
            ));
        }
        Ok(())
    }
}

/// The garment, and what a supplement is to.
fn name_with_supplement(head: &QuotationHead) -> String {
    match head.supplement_to {
        Some(to) => format!("{}, supplement to {to}", head.name),
        None => head.name.clone(),
    }
}
