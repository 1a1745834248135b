//! `ellwand lot edit`.

use super::show;
use crate::{command_error::CommandError, context::Context, sheet, ui::promise, verb::Verb};
use ellwand_contract::lots::{EditLot, LotChanged};

impl Verb for EditLot {
    fn prepare(&mut self, _: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let lot = self.lot;
        sheet::check(&self.sheet).none(&format!("nothing of {lot} was changed"))?;
        let beside = ["id", "date", "lot", "really", "if_version"];
        let hint =
            format!("give what differs: ellwand lot edit {lot} --colour navy --mass 270gsm …");
        CommandError::unless_changed(self, &beside, &hint)
    }

    fn show(&self, answer: LotChanged, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        show::lot(context.ui, shown, &answer.lot);
        promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
        context.ui.notes(&answer.notes);
        context
            .ui
            .status(format!("Changed {} ({}).", answer.lot.lot, answer.booking));
        Ok(())
    }
}
