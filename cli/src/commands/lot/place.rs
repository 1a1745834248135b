//! `ellwand lot place`.

use super::changed;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::lots::{PieceChanged, PlacePiece};

impl Verb for PlacePiece {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let done = format!("Put {} in {}", self.piece, self.place);
        changed(context, &answer, &done)
    }
}
