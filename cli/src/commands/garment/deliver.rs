//! `ellwand garment deliver`.

use super::screen;
use crate::{command_error::CommandError, context::Context, typed};
use chrono::NaiveDate;
use ellwand_contract::garments::DeliverGarment;
use ellwand_domain::code::GarmentCode;

/// Hand a finished garment over
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand garment deliver G5")]
pub struct Args {
    /// Which
    garment: GarmentCode,
    /// Day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = DeliverGarment {
        id: context.new_id(),
        garment: args.garment,
        date: args.date,
    };
    let garment = context.call(&act)?;
    if context.json(&garment)? {
        return Ok(());
    }
    screen::summary(context, &garment)?;
    context.ui.status(format!(
        "Delivered {}, {}.",
        garment.garment,
        screen::title(&garment)
    ));
    Ok(())
}
