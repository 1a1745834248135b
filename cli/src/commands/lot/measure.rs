//! `ellwand lot measure`.

use super::changed;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::lots::{MeasurePiece, PieceChanged};

impl Verb for MeasurePiece {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let done = format!("Measured {} at {}", self.piece, self.found);
        changed(context, &answer, &done)
    }
}
