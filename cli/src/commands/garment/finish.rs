//! `ellwand garment finish`.

use super::screen;
use crate::{command_error::CommandError, context::Context, typed};
use chrono::NaiveDate;
use ellwand_contract::garments::FinishGarment;
use ellwand_domain::{code::GarmentCode, setting::Spoilage};

/// Finish a garment or a batch
///
/// Promises that are left are released. Of a batch, some may be spoiled: the cost of normal spoilage rides on the
/// good ones; after an own mistake the spoiled share, less what it still fetches, is a loss shown apart.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand garment finish G5\n  \
    ellwand garment finish G6 --good 5 --spoiled 1 --spoilage own-mistake --salvage 2.00")]
pub struct Args {
    /// Which
    garment: GarmentCode,
    /// Good ones [default: all that are not spoiled]
    #[arg(long, value_name = "N")]
    good: Option<i64>,
    /// Spoiled ones
    #[arg(long, value_name = "N", default_value_t = 0)]
    spoiled: i64,
    /// Why: normal or own-mistake
    #[arg(long, value_name = "REASON")]
    spoilage: Option<Spoilage>,
    /// What the spoiled ones still fetch, in the workshop's currency
    #[arg(long, value_name = "AMOUNT", requires = "spoilage")]
    salvage: Option<String>,
    /// Day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = FinishGarment {
        id: context.new_id(),
        garment: args.garment,
        good: args.good,
        spoiled: args.spoiled,
        spoilage: args.spoilage,
        salvage: args.salvage,
        date: args.date,
    };
    let garment = context.call(&act)?;
    if context.json(&garment)? {
        return Ok(());
    }
    screen::summary(context, &garment)?;
    context.ui.status(format!(
        "Finished {}, {}.",
        garment.garment,
        screen::title(&garment)
    ));
    context.ui.hint(format!(
        "see what it cost with ellwand cost {}",
        garment.garment
    ));
    Ok(())
}
