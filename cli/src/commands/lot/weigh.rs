//! `ellwand lot weigh`.

use super::changed;
use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    verb::{Run, Verb},
};
use ellwand_contract::lots::{PieceChanged, WeighPiece};

#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot weigh L3.1 212g --tare 18g
  ellwand lot weigh L5.2 --gross 45g")]
#[command(override_usage = "ellwand lot weigh [OPTIONS] <PIECE> <MASS|--gross <MASS>>")]
#[command(group(clap::ArgGroup::new("weighed").required(true).args(["mass", "gross"])))]
pub struct Args {
    #[command(flatten)]
    act: WeighPiece,
    /// Gross mass, including the reel or core: 212g
    #[arg(value_name = "MASS", value_parser = typed::mass)]
    mass: Option<String>,
    /// The same, by name
    #[arg(long, value_name = "MASS", value_parser = typed::mass)]
    gross: Option<String>,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.gross = self.mass.or(self.gross).unwrap_or_default();
        self.act.run(context)
    }
}

impl Verb for WeighPiece {
    fn show(
        &self,
        answer: PieceChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let done = format!("Weighed {} at {}", self.piece, self.gross);
        changed(context, &answer, &done)
    }
}
