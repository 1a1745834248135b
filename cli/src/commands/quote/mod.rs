//! `ellwand quote`: quotations, from the price to the payment.

mod accept;
mod again;
mod close;
mod list;
mod make;
mod offer;
mod options;
mod outcome;
mod pay;
mod price;
mod print;
mod show;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// Make a quotation, make it again, print it, accept it, log what is paid, see what it came to
///
/// A quotation is frozen: what is bought, worked or set later never changes it; `quote again` makes a new version. Figures
/// are for planning: tax, deposits and terms follow local law and an accountant's advice.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote make G5 --margin 35% --stage 'deposit=40% of gross'
  ellwand quote show Q1 --inside
  ellwand quote print Q1 --pdf quotation.pdf
  ellwand quote accept Q1 --reserve
  ellwand quote pay Q1 120.00 --note cash
  ellwand quote outcome Q1")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Make(make::Args),
    Show(show::Args),
    List(list::Args),
    Again(again::Args),
    Print(print::Args),
    Accept(accept::Args),
    Pay(pay::Args),
    Close(close::Args),
    Outcome(outcome::Args),
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::Make(args) => make::run(args, context),
        Verb::Show(args) => show::run(&args, context),
        Verb::List(args) => list::run(&args, context),
        Verb::Again(args) => again::run(args, context),
        Verb::Print(args) => print::run(&args, context),
        Verb::Accept(args) => accept::run(&args, context),
        Verb::Pay(args) => pay::run(args, context),
        Verb::Close(args) => close::run(args, context),
        Verb::Outcome(args) => outcome::run(&args, context),
    }
}
