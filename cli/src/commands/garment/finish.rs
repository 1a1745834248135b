//! `ellwand garment finish`.

use super::screen;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::garments::{FinishGarment, Garment};

impl Verb for FinishGarment {
    fn show(&self, answer: Garment, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        screen::summary(context, &answer)?;
        let (code, title) = (answer.garment, screen::title(&answer));
        context.ui.status(format!("Finished {code}, {title}."));
        context
            .ui
            .hint(format!("see what it cost: ellwand cost {code}"));
        Ok(())
    }
}
