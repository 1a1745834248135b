//! `ellwand lot split`.

use super::changed;
use crate::{command_error::CommandError, context::Context, verb::Verb};
use ellwand_contract::{
    lots::{PieceChanged, SplitPiece},
    text::counted,
};

impl Verb for SplitPiece {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let made: Vec<String> = answer
            .made
            .iter()
            .map(|made| made.piece.to_string())
            .collect();
        let made = if made.is_empty() {
            counted(0, "piece")
        } else {
            made.join(", ")
        };
        let done = format!("Split {} off {} as {made}", self.take, self.piece);
        changed(context, &answer, &done)
    }
}
