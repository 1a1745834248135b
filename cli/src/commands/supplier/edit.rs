//! `ellwand supplier edit`.

use crate::{command_error::CommandError, commands::customer::table, context::Context, verb::Verb};
use ellwand_contract::parties::{EditSupplier, Supplier};

impl Verb for EditSupplier {
    fn show(&self, answer: Supplier, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let row = [self.supplier.to_string(), answer.name, answer.note];
        context.ui.table(&table([row]));
        context.ui.status(format!("Changed {}.", answer.supplier));
        Ok(())
    }
}
