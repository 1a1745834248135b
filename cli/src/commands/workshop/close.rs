//! `ellwand workshop close`.

use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::workshop::{CloseBooks, Workshop};

impl Verb for CloseBooks {
    fn prepare(&mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.confirm(&format!("Close the books up to {}?", self.to))?;
        context.add_to_command(["--yes".to_owned()]);
        Ok(())
    }

    fn show(&self, _: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.status(format!(
            "The books are closed up to {}; ellwand undo opens them again.",
            self.to
        ));
        Ok(())
    }
}
