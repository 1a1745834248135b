//! `ellwand wash done`.

use crate::{command_error::CommandError, context::Context, typed, ui::piece};
use chrono::NaiveDate;
use ellwand_contract::{Typed, wash::FinishWash};
use ellwand_domain::{code::PieceCode, quantity::Micrometres, shrinkage::Preparation};

/// Say that a piece was washed or steamed, with what it measures now
///
/// Its value stays; promises on it are looked at again, and those that no longer fit are named.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand wash done L1.1 --length 3.80m --width 147cm
  ellwand wash done L2.1 --length 2.94m --preparation steamed")]
pub struct Args {
    /// Which piece
    #[arg(value_name = "PIECE")]
    piece: PieceCode,
    /// Length now
    #[arg(long, value_name = "LENGTH")]
    length: Typed<Micrometres>,
    /// Full width now; left out, it is estimated from the shrinkage
    #[arg(long, value_name = "WIDTH")]
    width: Option<Typed<Micrometres>>,
    /// What was done: washed, "washed x3" or steamed
    #[arg(long, value_name = "WHAT", default_value = "washed")]
    preparation: Preparation,
    /// Confirm unusual figures: growth above 5 %, or of cloth a loss above 20 % lengthwise or 10 % crosswise, or a width more
    /// than 2 % above its lot's
    #[arg(long)]
    really: bool,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let done = format!(
        "Noted that {} was {} and measures {} now",
        args.piece,
        args.preparation,
        args.length.text()
    );
    let act = FinishWash {
        id: context.new_id(),
        piece: args.piece,
        preparation: args.preparation,
        length: args.length,
        width: args.width,
        really: args.really,
        date: args.date,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    piece::changed(context.ui, shown, &answer);
    context.ui.status(format!("{done} ({}).", answer.booking));
    Ok(())
}
