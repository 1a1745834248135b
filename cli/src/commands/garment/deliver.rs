//! `ellwand garment deliver`.

use super::screen;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::garments::{DeliverGarment, Garment};

impl Verb for DeliverGarment {
    fn show(&self, answer: Garment, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        screen::summary(context, &answer)?;
        let (code, title) = (answer.garment, screen::title(&answer));
        context.ui.status(format!("Delivered {code}, {title}."));
        Ok(())
    }
}
