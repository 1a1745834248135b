//! `ellwand customer erase`.

use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::parties::{EraseCustomer, Erased};

impl Verb for EraseCustomer {
    fn prepare(&mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let customer = self.customer;
        context.confirm(&format!("Erase the name and note of {customer} for good?"))
    }

    fn show(&self, answer: Erased, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.status(format!(
            "Erased the name of {}; the book keeps the code alone.",
            answer.customer
        ));
        context.ui.notes(&answer.notes);
        Ok(())
    }
}
