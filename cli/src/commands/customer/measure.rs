//! `ellwand customer measure`.

use super::show::measures;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::{
    measures::{CustomerShown, MeasureCustomer},
    text::counted,
};

impl Verb for MeasureCustomer {
    fn show(
        &self,
        answer: CustomerShown,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        context.ui.table(&measures(&answer.measures));
        let number = counted(self.measures.len(), "measure");
        let booking = answer.booking.map(|code| format!(" ({code})"));
        context.ui.status(format!(
            "Kept {number} of {}{}.",
            answer.customer,
            booking.unwrap_or_default()
        ));
        Ok(())
    }
}
