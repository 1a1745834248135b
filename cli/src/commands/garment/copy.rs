//! `ellwand garment copy`.

use super::{
    changes::{Beside, located},
    screen,
};
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::garments::{CopyGarment, Garment};

#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment copy G5 --for \"the harbour master\" --due 2026-11-20\n  \
    ellwand garment copy G5 --for Ada --need 'role=shell,material=M9'"
)]
pub struct Args {
    #[command(flatten)]
    act: CopyGarment,
    #[command(flatten)]
    beside: Beside,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let mut act = self.act;
        let (changes, file) = self.beside.changes(act.changes)?;
        act.changes = changes;
        act.run(context)
            .map_err(|error| located(file.as_ref(), error))
    }
}

impl Verb for CopyGarment {
    fn show(&self, answer: Garment, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        screen::garment(context, &answer)?;
        let (code, title) = (answer.garment, screen::title(&answer));
        context
            .ui
            .status(format!("Planned {code}, {title}, as {}.", self.garment));
        Ok(())
    }
}
