//! `ellwand whoami`: who is signed in.

use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::people::{GetSelf, Signed, described};

impl Verb for GetSelf {
    fn show(&self, answer: Signed, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let whose = described(&answer.person, answer.role, &answer.grants);
        let by = match answer.token {
            Some(token) => format!(", by {token}"),
            None => String::new(),
        };
        context.ui.line(format!("{whose}{by}"));
        if answer.token.is_none() {
            context
                .ui
                .status("No token is needed here: whoever has the book may do everything.");
        }
        Ok(())
    }
}
