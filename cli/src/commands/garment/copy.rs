//! `ellwand garment copy`.

use super::screen;
use crate::{command_error::CommandError, context::Context, typed};
use chrono::NaiveDate;
use ellwand_contract::garments::CopyGarment;
use ellwand_domain::code::GarmentCode;

/// Plan the same garment again
///
/// Needs with their parts, operations and seams are copied; planned minutes follow the count in proportion, rounded up.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  ellwand garment copy G5 --for \"the harbour master\" --due 2026-11-20"
)]
pub struct Args {
    /// Which
    garment: GarmentCode,
    /// New name [default: the same]
    #[arg(long)]
    name: Option<String>,
    /// For whom: name (made if new) or code; without it, for stock
    #[arg(long, value_name = "CUSTOMER")]
    r#for: Option<String>,
    /// How many alike [default: the same]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(i64).range(1..))]
    count: Option<i64>,
    /// Due day
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    due: Option<NaiveDate>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = CopyGarment {
        id: context.new_id(),
        garment: args.garment,
        name: args.name,
        customer: args.r#for,
        count: args.count,
        due: args.due,
    };
    let garment = context.call(&act)?;
    if context.json(&garment)? {
        return Ok(());
    }
    screen::garment(context, &garment)?;
    context.ui.status(format!(
        "Planned {}, {}, as {}.",
        garment.garment,
        screen::title(&garment),
        args.garment
    ));
    Ok(())
}
