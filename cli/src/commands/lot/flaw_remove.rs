//! `ellwand lot flaw-remove`.

use super::changed;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::lots::RemoveFlaw;
use ellwand_domain::code::PieceCode;

/// Take a flaw mark away: mended, or marked by mistake
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot flaw-remove L1.1 1")]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Number of the flaw from the outer end, from 1, as `ellwand lot show` lists it
    #[arg(value_name = "NUMBER")]
    flaw: usize,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = RemoveFlaw {
        id: context.new_id(),
        piece: args.piece,
        flaw: args.flaw,
    };
    let answer = context.call(&act)?;
    changed(
        context,
        &answer,
        &format!("Took flaw {} of {} away", args.flaw, args.piece),
    )
}
