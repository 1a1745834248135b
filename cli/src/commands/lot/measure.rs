//! `ellwand lot measure`.

use super::changed;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::{self, length_or_count},
};
use chrono::NaiveDate;
use ellwand_contract::{Typed, lots::MeasurePiece};
use ellwand_domain::{code::PieceCode, quantity::Micrometres, setting::MeasuredAfter};

/// Measure a piece again; its value stays
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lot measure L1.1 3.95m
  ellwand lot measure L1.1 3.80m --width 147cm --after washing")]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Length (or count) found
    #[arg(value_name = "AMOUNT", value_parser = length_or_count)]
    found: String,
    /// Full width found
    #[arg(long, value_name = "WIDTH")]
    width: Option<Typed<Micrometres>>,
    /// After what: arrival, washing (of cloth: the same as wash done), pressing, resting or counting
    #[arg(long, value_name = "WHAT", default_value_t, hide_default_value = true)]
    after: MeasuredAfter,
    /// Confirm unusual figures: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above its lot's
    #[arg(long)]
    really: bool,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let done = format!("Measured {} at {}", args.piece, args.found);
    let act = MeasurePiece {
        id: context.new_id(),
        piece: args.piece,
        found: args.found,
        width: args.width,
        after: args.after,
        really: args.really,
        date: args.date,
    };
    let answer = context.call(&act)?;
    changed(context, &answer, &done)
}
