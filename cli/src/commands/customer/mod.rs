//! `ellwand customer`: customers appear by use; here they are listed, edited and erased.

mod edit;
mod erase;
mod list;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// List, edit or erase customers; they appear with their first garment or cloth
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand customer list
  ellwand customer edit C2 --note \"opens on Thursdays\"
  ellwand customer erase C2")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// List all customers by name
    #[command(after_help = "Example:\n  ellwand customer list")]
    List,
    Edit(edit::Args),
    Erase(erase::Args),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::List => list::run(context),
        Verb::Edit(args) => edit::run(args, context),
        Verb::Erase(args) => erase::run(args, context),
    }
}
