//! `ellwand garment seams`.

use crate::{command_error::CommandError, context::Context, ui::seams, verb::Verb};
use ellwand_contract::seams::{GetSeams, Seams};

impl Verb for GetSeams {
    fn show(&self, answer: Seams, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        if answer.seams.is_empty() {
            let code = self.garment;
            context
                .ui
                .status(format!("{code} has no seams in its plan."));
            context.ui.hint(format!(
            "ellwand garment edit {code} --seam 'name=side seam,length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm' \
             --need 'role=thread,kind=thread,seams=yes'"
        ));
            return Ok(());
        }
        seams::show(context.ui, shown, &answer);
        Ok(())
    }
}
