//! `ellwand supplier list`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left},
};
use ellwand_contract::parties::ListSuppliers;

pub(super) fn run(context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&ListSuppliers {})?;
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.suppliers.is_empty() {
        context
            .ui
            .status("No suppliers yet; they appear with their first purchase.");
        return Ok(());
    }
    let mut table = Table::new([left("code"), left("name"), left("note")]);
    for supplier in &answer.suppliers {
        table.row([
            supplier.supplier.to_string(),
            supplier.name.clone(),
            supplier.note.clone(),
        ]);
    }
    context.ui.table(&table);
    Ok(())
}
