//! `ellwand supplier list`.

use crate::{command_error::CommandError, commands::customer::table, context::Context, verb::Verb};
use ellwand_contract::parties::{ListSuppliers, Suppliers};

impl Verb for ListSuppliers {
    fn show(&self, answer: Suppliers, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if answer.suppliers.is_empty() {
            let none = "No suppliers yet; they appear with their first purchase.";
            context.ui.status(none);
            return Ok(());
        }
        let rows = answer.suppliers.into_iter();
        let rows = rows.map(|of| [of.supplier.to_string(), of.name, of.note]);
        context.ui.table(&table(rows));
        Ok(())
    }
}
