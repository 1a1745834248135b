//! `ellwand person list`.

use super::table;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::people::{ListPeople, People};

impl Verb for ListPeople {
    fn show(&self, answer: People, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let ui = &mut *context.ui;
        if answer.people.is_empty() {
            ui.status("Nobody yet: whoever books first is added.");
            ui.hint("add someone with: ellwand person set anna --paid");
            return Ok(());
        }
        ui.table(&table(&answer.people));
        Ok(())
    }
}
