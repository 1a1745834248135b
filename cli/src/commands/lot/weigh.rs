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
///
/// A reel of thread that weighs just what it weighs empty is used up: what was left of its lot's cost, where nothing else is left
/// to carry it, goes with it as normal loss.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot weigh L3.1 212g --tare 18g
  ellwand lot weigh L5.2 --gross 45g")]
#[command(override_usage = "ellwand lot weigh [OPTIONS] <PIECE> <MASS|--gross <MASS>>")]
#[command(group(clap::ArgGroup::new("weighed").required(true).args(["mass", "gross"])))]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Gross mass, the reel or core included
    #[arg(value_name = "MASS", value_parser = checked::<Milligrams>)]
    mass: Option<String>,
    /// The same, by name
    #[arg(long, value_name = "MASS", value_parser = checked::<Milligrams>)]
    gross: Option<String>,
    /// Mass of the empty reel or core, kept for this piece; default what was said for it before, else the sheet's, else nothing
    #[arg(long, value_name = "MASS", value_parser = checked::<Milligrams>)]
    tare: Option<String>,
    /// Confirm an unusual length: more than 5 % above the former, or of cloth more than 20 % below it
    #[arg(long)]
    really: bool,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let gross = args.mass.or(args.gross).unwrap_or_default();
    let done = format!("Weighed {} at {gross}", args.piece);
    let act = WeighPiece {
        id: context.new_id(),
        piece: args.piece,
        gross,
        tare: args.tare,
        really: args.really,
        date: args.date,
    };
    let answer = context.call(&act)?;
    changed(context, &answer, &done)
}
