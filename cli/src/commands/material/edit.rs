//! `ellwand material edit`.

use crate::{command_error::CommandError, context::Context, sheet, ui, verb::Verb};
use ellwand_contract::sheets::{EditMaterial, Material};

impl Verb for EditMaterial {
    fn prepare(&mut self, _: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let code = self.material;
        sheet::check(&self.sheet).none(&format!("nothing of {code} was changed"))?;
        let hint = format!("give what differs: ellwand material edit {code} --mass 270gsm …");
        CommandError::unless_changed(self, &["id", "material", "really"], &hint)
    }

    fn show(&self, answer: Material, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        context.ui.heading(format!(
            "{} {} ({})",
            answer.material, answer.name, answer.kind
        ));
        context.ui.table(&ui::sheet::table(shown, &answer.sheet));
        if let Some(least) = answer.least {
            let least = shown.amount(least);
            context.ui.line(format!("least level {least}"));
        }
        context.ui.status(format!("Changed {}.", answer.material));
        Ok(())
    }
}
