//! `ellwand lot`: a lot with its pieces, and what is done to a piece on the shelf.

mod edit;
mod flaw;
mod flaw_remove;
mod measure;
mod place;
pub(crate) mod show;
mod split;
mod stiffness;
mod weigh;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;
use ellwand_contract::lots::PieceChanged;

/// Show a lot; test its stiffness; edit, place, flaw, split, measure or weigh its pieces
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lot show L1
  ellwand lot edit L1 --shrinkage 5%/2% --dye-lot 4711
  ellwand lot flaw L1.1 --at 1.20m --length 3cm --note 'slub'
  ellwand lot split L1.1 1.50m
  ellwand lot measure L1.1 3.95m --after resting
  ellwand lot weigh L3.1 212g --tare 18g
  ellwand lot stiffness L7 --lengthwise 62mm,60mm --crosswise 41mm,42mm")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Show(show::Args),
    Edit(Box<edit::Args>),
    Place(place::Args),
    Flaw(flaw::Args),
    FlawRemove(flaw_remove::Args),
    Split(split::Args),
    Measure(measure::Args),
    Weigh(weigh::Args),
    Stiffness(Box<stiffness::Args>),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::Show(args) => show::run(&args, context),
        Verb::Edit(args) => edit::run(*args, context),
        Verb::Place(args) => place::run(args, context),
        Verb::Flaw(args) => flaw::run(args, context),
        Verb::FlawRemove(args) => flaw_remove::run(&args, context),
        Verb::Split(args) => split::run(args, context),
        Verb::Measure(args) => measure::run(args, context),
        Verb::Weigh(args) => weigh::run(args, context),
        Verb::Stiffness(args) => stiffness::run(*args, context),
    }
}

/// Shows a changed piece, then says what was done.
fn changed(
    context: &mut Context<'_, '_>,
    answer: &PieceChanged,
    done: &str,
) -> Result<(), CommandError> {
    if context.json(answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    crate::ui::piece::changed(context.ui, shown, answer);
    context.ui.status(format!("{done} ({}).", answer.booking));
    Ok(())
}
