//! `ellwand lot price`.

use crate::{command_error::CommandError, commands::buy::screen, context::Context, verb::Verb};
use ellwand_contract::purchases::{PriceLot, Purchase};

impl Verb for PriceLot {
    fn show(&self, answer: Purchase, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        let line = answer.lines.iter().find(|line| line.lot == self.lot);
        let landed = line.map_or_else(String::new, |line| shown.money(line.landed));
        screen::line_of(context.ui, shown, (&answer, self.lot));
        context.ui.status(format!(
            "Logged the price of {}, which now costs {landed} ({}).",
            self.lot, answer.booking
        ));
        Ok(())
    }
}
