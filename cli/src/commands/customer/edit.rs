//! `ellwand customer edit`.

use super::table;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::parties::{Customer, EditCustomer};

impl Verb for EditCustomer {
    fn show(&self, answer: Customer, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let row = [self.customer.to_string(), answer.name, answer.note];
        context.ui.table(&table([row]));
        context.ui.status(format!("Changed {}.", answer.customer));
        Ok(())
    }
}
