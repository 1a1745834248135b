//! `ellwand customer erase`.

use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::{
    measures::GetCustomer,
    parties::{EraseCustomer, Erased},
};

impl Verb for EraseCustomer {
    fn prepare(&mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.begin::<Self>()?;
        // By its code, so that the request that is kept holds no name.
        let customer = self.customer.clone();
        let known = context.call(&GetCustomer {
            customer,
            all: false,
        })?;
        self.customer = known.customer.to_string();
        let who = format!("{} ({})", known.name, known.customer);
        context.confirm(&format!("Erase the name and note of {who} for good?"))
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
