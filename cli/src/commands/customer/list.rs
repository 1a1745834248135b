//! `ellwand customer list`.

use super::table;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::parties::{Customers, ListCustomers};

impl Verb for ListCustomers {
    fn show(&self, answer: Customers, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if answer.customers.is_empty() {
            let none = "No customers yet; they appear with their first garment or cloth.";
            context.ui.status(none);
            return Ok(());
        }
        let rows = answer.customers.into_iter();
        let rows = rows.map(|of| [of.customer.to_string(), of.name, of.note]);
        context.ui.table(&table(rows));
        Ok(())
    }
}
