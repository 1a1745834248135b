//! `ellwand operation list`.

use super::table;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::operations::ListOperations;

pub(super) fn run(context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&ListOperations {})?;
    if context.json(&answer)? {
        return Ok(());
    }
    if answer.operations.is_empty() {
        context.ui.status("No usual operations yet.");
        context
            .ui
            .hint("add one with: ellwand operation set hem --minutes 45m");
        return Ok(());
    }
    context.ui.table(&table(&answer.operations));
    Ok(())
}
