//! `ellwand lot split`.

use super::changed;
use crate::{command_error::CommandError, context::Context, typed::length_or_count};
use ellwand_contract::{lots::SplitPiece, text::counted};
use ellwand_domain::{code::PieceCode, setting::End};

/// Make two pieces of one; nothing is used, the value is shared by length
///
/// So a length can be cut off raw, washed on its own, and cut later.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot split L1.1 1.50m --place A3")]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Length (or count) that becomes the new piece
    #[arg(value_name = "AMOUNT", value_parser = length_or_count)]
    take: String,
    /// From which end: outer or inner; default outer
    #[arg(long, value_name = "END", default_value_t, hide_default_value = true)]
    end: End,
    /// Where the new piece lies
    #[arg(long, value_name = "PLACE")]
    place: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let taken = args.take.clone();
    let act = SplitPiece {
        id: context.new_id(),
        piece: args.piece,
        take: args.take,
        end: args.end,
        place: args.place,
    };
    let answer = context.call(&act)?;
    let made: Vec<String> = answer
        .made
        .iter()
        .map(|piece| piece.piece.to_string())
        .collect();
    let made = if made.is_empty() {
        counted(0, "piece")
    } else {
        made.join(", ")
    };
    changed(
        context,
        &answer,
        &format!("Split {taken} off {} as {made}", args.piece),
    )
}
