//! `ellwand person show`.

use super::{mark, table};
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::people::GetPerson;

/// Show a person: own or paid, and what an hour costs
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:\n  ellwand person show anna")]
pub struct Args {
    /// Their name
    name: String,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetPerson { person: args.name })?;
    if context.json(&answer)? {
        return Ok(());
    }
    context.ui.table(&table(std::slice::from_ref(&answer)));
    let day = answer.made_at.date_naive();
    context.ui.status(format!(
        "Hours of {} are {}; named first on {day} by {}.",
        answer.person,
        mark(answer.paid),
        answer.made_by
    ));
    Ok(())
}
