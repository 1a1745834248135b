//! `ellwand lot place`.

use super::changed;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::lots::PlacePiece;
use ellwand_domain::code::PieceCode;

/// Say where a piece lies
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot place L1.1 A2")]
pub struct Args {
    /// Which
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Where it lies now
    place: String,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let done = format!("Put {} to {}", args.piece, args.place);
    let act = PlacePiece {
        id: context.new_id(),
        piece: args.piece,
        place: args.place,
    };
    let answer = context.call(&act)?;
    changed(context, &answer, &done)
}
