//! `ellwand quote pay`.

use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Verb};
use ellwand_contract::quotations::{LogPayment, Quotation};

impl Verb for LogPayment {
    fn show(&self, answer: Quotation, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        quotation::payments(context.ui, &answer);
        let how = if self.cash { " in cash" } else { "" };
        let (standing, currency) = (&answer.standing, &answer.sheet.currency);
        let logged = format!(
            "Logged {} {currency}{how} on {}",
            self.amount, self.quotation
        );
        let is_left = standing
            .stages
            .iter()
            .any(|stage| stage.paid != stage.amount);
        context
            .ui
            .status(match (standing.stages.is_empty(), is_left) {
                (true, _) => format!("{logged}."),
                (false, true) => format!(
                    "{logged}; {} {currency} is still to be paid.",
                    standing.left
                ),
                (false, false) => format!("{logged}; all of it is paid."),
            });
        context.ui.notes(&answer.notes);
        Ok(())
    }
}
