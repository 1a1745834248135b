//! `ellwand operation list`.

use super::table;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::operations::{ListOperations, UsualOperations};

impl Verb for ListOperations {
    fn show(
        &self,
        answer: UsualOperations,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        if answer.operations.is_empty() {
            context.ui.status("No usual operations yet.");
            let hint = "add one with: ellwand operation set hem --minutes 45m";
            context.ui.hint(hint);
            return Ok(());
        }
        context.ui.table(&table(&answer.operations));
        Ok(())
    }
}
