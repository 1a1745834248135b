//! `ellwand release`: gives promises back.

use crate::{command_error::CommandError, context::Context, ui::promise};
use ellwand_contract::{reservations::Release, text::counted};
use ellwand_domain::code::{GarmentCode, ReservationCode};

/// Give promises back
///
/// Named ones, or with --garment all active ones of a garment.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand release R12\n  ellwand release R12 R13\n  ellwand release --garment G5"
)]
pub struct Args {
    /// Which
    #[arg(required_unless_present = "garment", value_name = "PROMISE")]
    promises: Vec<ReservationCode>,
    /// All active ones of this garment
    #[arg(long, conflicts_with = "promises")]
    garment: Option<GarmentCode>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = Release {
        id: context.new_id(),
        reservations: args.promises,
        garment: args.garment,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    if !answer.reservations.is_empty() {
        context
            .ui
            .table(&promise::table(shown, &answer.reservations));
    }
    promise::aftermath(context.ui, shown, &[], &answer.broken);
    context.ui.notes(&answer.notes);
    context.ui.status(format!(
        "Released {}.",
        counted(answer.reservations.len(), "promise")
    ));
    Ok(())
}
