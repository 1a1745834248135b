//! `ellwand token list`.

use super::table;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::people::{ListTokens, Tokens};

impl Verb for ListTokens {
    fn show(&self, answer: Tokens, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if answer.tokens.is_empty() {
            context.ui.status("There are no tokens.");
            context
                .ui
                .hint("let someone in with: ellwand token create anna --role maker");
            return Ok(());
        }
        context.ui.table(&table(&answer.tokens));
        Ok(())
    }
}
