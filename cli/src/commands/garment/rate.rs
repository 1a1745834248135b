//! `ellwand garment rate`.

use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::details::{DetailRated, RateDetail};

impl Verb for RateDetail {
    fn show(&self, answer: DetailRated, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let before = answer
            .before
            .map(|before| format!(", before {before}"))
            .unwrap_or_default();
        context.ui.status(format!(
            "Rated the {} of {}: {} of 5{before}.",
            answer.detail, self.garment, answer.rating
        ));
        Ok(())
    }
}
