//! `ellwand operation forget`.

use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::operations::{ForgetOperation, UsualOperations};

impl Verb for ForgetOperation {
    fn show(&self, _: UsualOperations, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let name = &self.name;
        context
            .ui
            .status(format!("{name} is no longer a usual operation."));
        Ok(())
    }
}
