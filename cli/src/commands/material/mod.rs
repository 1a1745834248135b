//! `ellwand material`: what things are, with the sheet that new lots start from.

mod edit;
mod list;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// List or edit materials; they appear with their first purchase
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand material list --kind cloth
  ellwand material edit M3 --mass 270gsm --fibres \"wool 80% + nylon 20%\"")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    List(list::Args),
    Edit(Box<edit::Args>),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::List(args) => list::run(&args, context),
        Verb::Edit(args) => edit::run(*args, context),
    }
}
