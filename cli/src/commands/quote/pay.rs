//! `ellwand quote pay`.

use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Verb};
use ellwand_contract::quotations::{LogPayment, Quotation};

impl Verb for LogPayment {
    fn show(&self, answer: Quotation, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        quotation::payments(context.ui, &answer);
        let how = if self.cash { " in cash" } else { "" };
        context.ui.status(format!(
            "Logged {} {}{how} on {}.",
            self.amount, answer.sheet.currency, self.quotation
        ));
        context.ui.notes(&answer.notes);
        Ok(())
    }
}
