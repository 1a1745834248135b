//! `ellwand customer list`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left},
};
use ellwand_contract::parties::ListCustomers;

pub(super) fn run(context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&ListCustomers {})?;
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.customers.is_empty() {
        context
            .ui
            .status("No customers yet; they appear with their first garment or cloth.");
        return Ok(());
    }
    let mut table = Table::new([left("code"), left("name"), left("note")]);
    for customer in &answer.customers {
        table.row([
            customer.customer.to_string(),
            customer.name.clone(),
            customer.note.clone(),
        ]);
    }
    context.ui.table(&table);
    Ok(())
}
