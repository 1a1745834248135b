//! `ellwand garment show`.

use super::screen;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::garments::GetGarment;
use ellwand_domain::code::GarmentCode;

/// Show a garment with its needs, promises and work
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand garment show G5")]
pub struct Args {
    /// Which
    garment: GarmentCode,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let garment = context.call(&GetGarment {
        garment: args.garment,
    })?;
    if context.json(&garment)? {
        Ok(())
    } else {
        screen::garment(context, &garment)
    }
}
