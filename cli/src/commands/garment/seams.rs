//! `ellwand garment seams`.

use crate::{command_error::CommandError, context::Context, ui::seams};
use ellwand_contract::seams::GetSeams;
use ellwand_domain::code::GarmentCode;

/// Show a garment's seams and the thread they take
///
/// For one garment: thread in a metre of each seam, what it was worked out from and how well that is known, needle and
/// under thread; then what each thread comes to with ends and waste. See `ellwand seam --help` for what to measure.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand garment seams G5\n  \
    ellwand garment edit G5 --seam 'name=hem,length=1.40m,stitch=301,per-cm=4,thickness=1.2mm' \\\n    \
    --need 'role=thread,kind=thread,seams=yes'")]
pub struct Args {
    /// Which
    garment: GarmentCode,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetSeams {
        garment: args.garment,
    })?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    if answer.seams.is_empty() {
        let code = args.garment;
        context
            .ui
            .status(format!("{code} has no seams in its plan."));
        context.ui.hint(format!(
            "ellwand garment edit {code} --seam 'name=side seam,length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm' \
             --need 'role=thread,kind=thread,seams=yes'"
        ));
        return Ok(());
    }
    seams::show(context.ui, shown, &answer);
    Ok(())
}
