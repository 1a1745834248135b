//! `ellwand person`: who works and signs in.

mod list;
mod set;
mod show;

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, time::since},
};
use clap::Subcommand;
use ellwand_contract::people::Person;

/// List or show the people of the workshop, or say whether hours are own or paid
///
/// Own hours enter prices, and never the stock value of garments; without a rate of their own they take the owner's, else the
/// year's figures. Hours of a paid person are wages, and need a rate of that person.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand person list
  ellwand person show anna
  ellwand person set anna --paid")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// List all people by name
    #[command(after_help = "Example:\n  ellwand person list")]
    List,
    Show(show::Args),
    Set(set::Args),
}

/// Lists or shows people, or marks the hours of one as own or paid.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::List => list::run(context),
        Verb::Show(args) => show::run(args, context),
        Verb::Set(args) => set::run(args, context),
    }
}

fn table(people: &[Person]) -> Table {
    let mut table = Table::new([left("person"), left("hours"), left("an hour")]);
    for person in people {
        let rates: Vec<String> = person
            .pay_rates
            .iter()
            .map(|rate| {
                let kind = rate
                    .kind
                    .map(|kind| format!(" at {kind} work"))
                    .unwrap_or_default();
                format!("{}{kind} from {}", rate.per_hour, since(rate.from))
            })
            .collect();
        let none = match (person.rates_told, person.paid) {
            (false, _) => "",
            (true, true) => "no rate yet",
            (true, false) => "as the owner",
        };
        table.row([
            person.person.clone(),
            mark(person.paid).to_owned(),
            if rates.is_empty() {
                none.to_owned()
            } else {
                rates.join(", ")
            },
        ]);
    }
    table
}

const fn mark(paid: bool) -> &'static str {
    if paid { "paid" } else { "own" }
}
