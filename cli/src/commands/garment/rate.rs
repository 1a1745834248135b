//! `ellwand garment rate`.

use crate::{command_error::CommandError, context::Context};
use ellwand_contract::details::RateDetail;
use ellwand_domain::code::GarmentCode;

/// Say what a detail was worth on a garment that was made
///
/// From 1, not worth its effort, to 5, worth every minute. Rating it again replaces the former rating; `ellwand details` holds
/// the ratings against what the detail took.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand garment rate G5 'hand-rolled hem' 4")]
pub struct Args {
    /// On which garment
    garment: GarmentCode,
    /// Which of its details
    detail: String,
    /// From 1 to 5
    #[arg(allow_negative_numbers = true)]
    rating: i64,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let Args {
        garment,
        detail,
        rating,
    } = args;
    let act = RateDetail {
        id: context.new_id(),
        garment,
        detail,
        rating,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let before = answer
        .before
        .map(|before| format!(", before {before}"))
        .unwrap_or_default();
    context.ui.status(format!(
        "Rated the {} of {garment}: {} of 5{before}.",
        answer.detail, answer.rating
    ));
    Ok(())
}
