//! `ellwand garment promises`.

use crate::{command_error::CommandError, context::Context, ui::reservation, verb::Verb};
use ellwand_contract::reservations::{ListReservations, Reservations};

impl Verb for ListReservations {
    fn show(&self, page: Reservations, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if page.reservations.is_empty() {
            context
                .ui
                .status(format!("{} has no such promises.", self.garment));
            context.ui.hint(format!(
                "promise material to it with ellwand reserve {} --all",
                self.garment
            ));
            return Ok(());
        }
        let shown = context.shown()?;
        context
            .ui
            .table(&reservation::table(shown, &page.reservations));
        if let Some(next) = &page.meta.next {
            context.ui.hint(format!(
                "there are more: ellwand garment promises {} --after {next}",
                self.garment
            ));
        }
        Ok(())
    }
}
