//! `ellwand workshop close`.

use crate::{command_error::CommandError, context::Context, typed};
use chrono::NaiveDate;
use ellwand_contract::workshop::CloseBooks;

/// Close the books up to a day: nothing is booked on it or before it any more
///
/// Later corrections go into the open days. To open days again, undo the closing.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand workshop close 2026-09-30")]
pub struct Args {
    /// Last day that is closed
    #[arg(value_name = "DATE", value_parser = typed::date)]
    to: NaiveDate,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    context.confirm(&format!("Close the books up to {}?", args.to))?;
    context.add_to_command(["--yes".to_owned()]);
    let act = CloseBooks {
        id: context.new_id(),
        to: args.to,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    context.ui.status(format!(
        "The books are closed up to {}; ellwand undo opens them again.",
        args.to
    ));
    Ok(())
}
