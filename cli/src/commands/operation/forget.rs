//! `ellwand operation forget`.

use crate::{command_error::CommandError, context::Context};
use ellwand_contract::operations::ForgetOperation;

/// Take a usual operation out; garments keep what they have
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand operation forget hem")]
pub struct Args {
    /// Its name; capitals make no difference
    name: String,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = ForgetOperation {
        id: context.new_id(),
        name: args.name,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    context
        .ui
        .status(format!("{} is no usual operation any more.", act.name));
    Ok(())
}
