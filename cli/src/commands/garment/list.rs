//! `ellwand garment list`.

use crate::{command_error::CommandError, context::Context, ui::Table, verb::Verb};
use ellwand_contract::garments::{Garments, ListGarments};

impl Verb for ListGarments {
    fn show(&self, page: Garments, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if page.garments.is_empty() {
            context.ui.status("No garments yet.");
            context.ui.hint("plan one with ellwand garment plan");
            return Ok(());
        }
        let mut table = Table::headed("garment | name | >count | for | due | state");
        for garment in &page.garments {
            table.row([
                garment.garment.to_string(),
                garment.name.clone(),
                garment.count.to_string(),
                garment.customer.clone().unwrap_or_default(),
                garment.due.map_or_else(String::new, |due| due.to_string()),
                garment.state.to_string(),
            ]);
        }
        context.ui.table(&table);
        if let Some(next) = &page.meta.next {
            context.ui.hint(format!(
                "there are more: ellwand garment list --after {next}"
            ));
        }
        Ok(())
    }
}
