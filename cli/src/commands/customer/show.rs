//! `ellwand customer show`.

use super::table;
use crate::{command_error::CommandError, context::Context, ui::Table, verb::Verb};
use ellwand_contract::measures::{CustomerShown, GetCustomer, Measure};

impl Verb for GetCustomer {
    fn show(
        &self,
        answer: CustomerShown,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let row = [answer.customer.to_string(), answer.name, answer.note];
        context.ui.table(&table([row]));
        if !answer.measures.is_empty() {
            context.ui.blank();
            context.ui.table(&measures(&answer.measures));
        }
        Ok(())
    }
}

/// Measurements with their days; what a newer one replaced is marked.
pub(super) fn measures(measures: &[Measure]) -> Table {
    let mut table = Table::headed("measure | >length | taken on | replaced");
    for measure in measures {
        let mark = if measure.newer { "yes" } else { "" };
        table.row([
            measure.name.clone(),
            measure.length.clone(),
            measure.on_date.to_string(),
            mark.to_owned(),
        ]);
    }
    table
}
