//! `ellwand garment copy`.

use super::screen;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::garments::{CopyGarment, Garment};

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
