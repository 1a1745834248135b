//! `ellwand lot weigh`.

use super::changed;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::{self, checked},
};
use chrono::NaiveDate;
use ellwand_contract::lots::WeighPiece;
use ellwand_domain::{code::PieceCode, quantity::Milligrams};

/// Weigh a piece to learn its length: a reel by its tare and yarn count, cloth by its mass per area
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot weigh L3.1 212g --tare 18g")]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Gross mass, the reel or core included
    #[arg(value_name = "MASS", value_parser = checked::<Milligrams>)]
    gross: String,
    /// Mass of the reel or core; default the sheet's, else nothing
    #[arg(long, value_name = "MASS", value_parser = checked::<Milligrams>)]
    tare: Option<String>,
    /// More than 5 % above the former length is meant
    #[arg(long)]
    really: bool,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let done = format!("Weighed {} at {}", args.piece, args.gross);
    let act = WeighPiece {
        id: context.new_id(),
        piece: args.piece,
        gross: args.gross,
        tare: args.tare,
        really: args.really,
        date: args.date,
    };
    let answer = context.call(&act)?;
    changed(context, &answer, &done)
}
