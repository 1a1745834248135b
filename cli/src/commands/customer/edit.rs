//! `ellwand customer edit`.

use super::table;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::parties::{Customer, EditCustomer};

impl Verb for EditCustomer {
    fn show(&self, answer: Customer, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let code = answer.customer.to_string();
        let said = format!("Changed {code}.");
        context.ui.table(&table([[code, answer.name, answer.note]]));
        context.ui.status(said);
        Ok(())
    }
}
