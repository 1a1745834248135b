//! `ellwand cost`: the cost sheet.

use crate::{command_error::CommandError, context::Context, ui::cost_sheet};
use ellwand_contract::costs::GetCost;
use ellwand_domain::code::GarmentCode;

/// Show the cost sheet of a garment, planned beside actual
///
/// Each material stands at its own lot's cost, work at its pay rate, overhead on billable hours. Own mistakes and
/// faulty cloth stand apart, below the cost of the job. The bridge leads from planned to actual, to the cent; of a
/// finished batch the cost of each good one is shown.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand cost G5")]
pub struct Args {
    /// Which garment
    garment: GarmentCode,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let sheet = context.call(&GetCost {
        garment: args.garment,
    })?;
    if context.json(&sheet)? {
        return Ok(());
    }
    let shown = context.shown()?;
    cost_sheet::show(context.ui, shown, &sheet);
    if sheet.lines.is_empty() && sheet.losses.is_empty() {
        context.ui.status(format!(
            "Nothing is planned or booked on {} yet.",
            sheet.garment
        ));
        context.ui.hint(format!(
            "plan needs and work with ellwand garment edit {}",
            sheet.garment
        ));
    }
    Ok(())
}
