//! `ellwand supplier`: suppliers appear by use; here they are listed and edited.

mod edit;
mod list;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// List or edit suppliers; they appear with their first purchase
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand supplier list
  ellwand supplier edit S2 --note \"opens on Thursdays\"")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// List all suppliers by name
    #[command(after_help = "Example:\n  ellwand supplier list")]
    List,
    Edit(edit::Args),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::List => list::run(context),
        Verb::Edit(args) => edit::run(args, context),
    }
}
