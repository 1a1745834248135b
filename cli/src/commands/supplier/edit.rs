//! `ellwand supplier edit`.

use crate::{command_error::CommandError, commands::customer::table, context::Context, verb::Verb};
use ellwand_contract::parties::{EditSupplier, Supplier};

impl Verb for EditSupplier {
    fn show(&self, answer: Supplier, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let code = answer.supplier.to_string();
        let said = format!("Changed {code}.");
        context.ui.table(&table([[code, answer.name, answer.note]]));
        context.ui.status(said);
        Ok(())
    }
}
