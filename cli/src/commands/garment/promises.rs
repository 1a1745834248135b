//! `ellwand garment promises`.

use crate::{command_error::CommandError, context::Context, ui::reservation};
use ellwand_contract::reservations::ListReservations;
use ellwand_domain::{code::GarmentCode, setting::ReservationState};

/// List the promises of a garment, newest first, ended ones included
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand garment promises G5\n  ellwand garment promises G5 --state released --limit 20"
)]
pub struct Args {
    /// The garment
    garment: GarmentCode,
    /// Only in this state: active, cut, released, expired, broken
    #[arg(long)]
    state: Option<ReservationState>,
    /// Go on after this cursor of the page before
    #[arg(long, value_name = "CURSOR")]
    after: Option<String>,
    /// Rows a page, at most 200
    #[arg(long, value_name = "N")]
    limit: Option<u32>,
}

/// Lists the promises of a garment, page by page.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = ListReservations {
        garment: args.garment,
        state: args.state,
        after: args.after.clone(),
        limit: args.limit,
    };
    let page = context.call(&act)?;
    if context.json(&page)? {
        return Ok(());
    }
    if page.reservations.is_empty() {
        context
            .ui
            .status(format!("{} has no such promises.", args.garment));
        context.ui.hint(format!(
            "promise it material with ellwand reserve {} --all",
            args.garment
        ));
        return Ok(());
    }
    let shown = context.shown()?;
    context
        .ui
        .table(&reservation::table(shown, &page.reservations));
    if let Some(next) = &page.meta.next {
        context.ui.hint(format!(
            "there are more: ellwand garment promises {} --after {next}",
            args.garment
        ));
    }
    Ok(())
}
