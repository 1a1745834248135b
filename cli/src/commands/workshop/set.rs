//! `ellwand workshop set`.

use super::show::show_changed;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::{
    json,
    workshop::{SetWorkshop, Workshop},
};

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
        let fields = json::tree(self).unwrap_or_default();
        show_changed(context, &answer, &fields);
        context.ui.status("Changed the workshop's settings.");
        Ok(())
    }
}
