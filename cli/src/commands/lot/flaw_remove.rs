//! `ellwand lot flaw-remove`.

use super::changed;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::lots::{PieceChanged, RemoveFlaw};

impl Verb for RemoveFlaw {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let done = format!("Removed flaw {} of {}", self.flaw, self.piece);
        changed(context, &answer, &done)
    }
}
