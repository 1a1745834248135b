//! `ellwand cost`: the cost sheet.

use crate::{command_error::CommandError, context::Context, ui::cost_sheet, verb::Verb};
use ellwand_contract::costs::{CostSheet, GetCost};

impl Verb for GetCost {
    fn show(&self, sheet: CostSheet, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        cost_sheet::show(context.ui, shown, &sheet);
        if sheet.lines.is_empty() && sheet.losses.is_empty() {
            let garment = sheet.garment;
            let ui = &mut *context.ui;
            ui.status(format!("Nothing is planned or booked on {garment} yet."));
            ui.hint(format!(
                "plan needs and work with ellwand garment edit {garment}"
            ));
        }
        Ok(())
    }
}
