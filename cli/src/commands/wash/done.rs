//! `ellwand wash done`.

use crate::{command_error::CommandError, commands::lot::changed, context::Context, verb::Verb};
use ellwand_contract::{lots::PieceChanged, wash::FinishWash};

impl Verb for FinishWash {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let (piece, preparation) = (self.piece, self.preparation);
        let length = self.length.text();
        let done = format!("Noted that {piece} was {preparation} and measures {length} now");
        changed(context, &answer, &done)
    }
}
