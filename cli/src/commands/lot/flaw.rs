//! `ellwand lot flaw`.

use super::changed;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::{Typed, lots::MarkFlaw};
use ellwand_domain::{code::PieceCode, quantity::Micrometres};

/// Mark a flaw across the width; it divides the piece into stretches
///
/// Positions run from the outer end. Promises that no longer fit are named.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot flaw L1.1 --at 1.20m --length 3cm --note 'slub'")]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Where it begins, from the outer end
    #[arg(long, value_name = "LENGTH")]
    at: Typed<Micrometres>,
    /// How far it reaches along the piece; default a line
    #[arg(long, value_name = "LENGTH")]
    length: Option<Typed<Micrometres>>,
    /// What it is
    #[arg(
        long,
        value_name = "TEXT",
        default_value = "",
        hide_default_value = true
    )]
    note: String,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let done = format!("Marked a flaw in {} at {}", args.piece, args.at.text());
    let act = MarkFlaw {
        id: context.new_id(),
        piece: args.piece,
        at: args.at,
        length: args.length,
        note: args.note,
    };
    let answer = context.call(&act)?;
    changed(context, &answer, &done)
}
