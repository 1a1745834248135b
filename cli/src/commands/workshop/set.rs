//! `ellwand workshop set`.

use super::show::show;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::workshop::{SetWorkshop, Workshop};

impl Verb for SetWorkshop {
    fn prepare(&mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.units = context.typed_units();
        CommandError::unless_changed(
            self,
            &["id", "if_version"],
            "see `ellwand workshop set --help` for the settings, and `ellwand workshop` for their values",
        )
    }

    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show(context, &answer);
        context.ui.status("Changed the workshop's settings.");
        Ok(())
    }
}
