//! `ellwand buy show`.

use super::screen;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::purchases::{GetPurchase, Purchase};

impl Verb for GetPurchase {
    fn show(&self, answer: Purchase, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        screen::purchase(context.ui, shown, &answer);
        Ok(())
    }
}
