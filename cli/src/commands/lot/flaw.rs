//! `ellwand lot flaw`.

use super::changed;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::lots::{MarkFlaw, PieceChanged};

impl Verb for MarkFlaw {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let done = format!("Marked a flaw in {} at {}", self.piece, self.at.text());
        changed(context, &answer, &done)
    }
}
