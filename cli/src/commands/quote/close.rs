//! `ellwand quote close`.

use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Verb};
use ellwand_contract::quotations::{CloseQuotation, Quotation};
use ellwand_domain::setting::QuotationState;

impl Verb for CloseQuotation {
    fn show(&self, answer: Quotation, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        quotation::payments(context.ui, &answer);
        let done = if answer.state == QuotationState::Cancelled {
            "Cancelled"
        } else {
            "Closed"
        };
        context.ui.status(format!("{done} {}.", self.quotation));
        context.ui.notes(&answer.notes);
        Ok(())
    }
}
