//! `ellwand garment show`.

use super::screen;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::garments::{Garment, GetGarment};

impl Verb for GetGarment {
    fn show(&self, answer: Garment, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        screen::garment(context, &answer)
    }
}
