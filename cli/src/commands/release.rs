//! `ellwand release`: gives promises back.

use crate::{command_error::CommandError, context::Context, ui::promise, verb::Verb};
use ellwand_contract::{
    reservations::{Release, Reserved},
    text::counted,
};

impl Verb for Release {
    fn show(&self, answer: Reserved, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        let ui = &mut *context.ui;
        if !answer.reservations.is_empty() {
            ui.table(&promise::table(shown, &answer.reservations));
        }
        promise::aftermath(ui, shown, &[], &answer.broken);
        ui.notes(&answer.notes);
        let released = counted(answer.reservations.len(), "promise");
        ui.status(format!("Released {released}."));
        Ok(())
    }
}
