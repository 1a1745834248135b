//! `ellwand garment`: plans, and the life of what is made.

mod cancel;
mod copy;
mod deliver;
mod edit;
mod estimate;
mod finish;
mod list;
pub(super) mod need_text;
pub(super) mod needs;
pub(super) mod parts;
mod plan;
pub(super) mod plan_file;
mod promises;
mod prompts;
mod rate;
mod screen;
pub(super) mod seam_pairs;
mod seams;
mod show;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// Plan, list, show, estimate, finish, deliver, rate or cancel garments
///
/// A garment is one planned or made article, or a batch of alike ones. Its needs are per garment.
#[derive(Debug, clap::Args)]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Plan(plan::Args),
    List(list::Args),
    Show(show::Args),
    Promises(promises::Args),
    Seams(seams::Args),
    Edit(edit::Args),
    Copy(copy::Args),
    Estimate(estimate::Args),
    Finish(finish::Args),
    Deliver(deliver::Args),
    Rate(rate::Args),
    Cancel(cancel::Args),
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::Plan(args) => plan::run(args, context),
        Verb::List(args) => list::run(&args, context),
        Verb::Show(args) => show::run(&args, context),
        Verb::Promises(args) => promises::run(&args, context),
        Verb::Seams(args) => seams::run(&args, context),
        Verb::Edit(args) => edit::run(args, context),
        Verb::Copy(args) => copy::run(args, context),
        Verb::Estimate(args) => estimate::run(&args, context),
        Verb::Finish(args) => finish::run(args, context),
        Verb::Deliver(args) => deliver::run(&args, context),
        Verb::Rate(args) => rate::run(args, context),
        Verb::Cancel(args) => cancel::run(&args, context),
    }
}
