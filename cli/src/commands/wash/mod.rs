//! `ellwand wash`: a swatch was tested, or a piece was prepared.

mod done;
mod readings;
mod test;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// Record a wash test of a swatch, or that a piece was washed or steamed
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand wash test L1 --length 350mm,350mm,350mm=334mm,335mm,333mm --width 350mm=345mm
  ellwand wash done L1.1 --length 3.80m --preparation washed")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Test(test::Args),
    Done(done::Args),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::Test(args) => test::run(args, context),
        Verb::Done(args) => done::run(args, context),
    }
}
