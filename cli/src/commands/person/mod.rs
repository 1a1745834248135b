//! `ellwand person`: who works and signs in.

mod list;
mod set;
mod show;

use crate::{
    ui::{Table, time::since},
    verb::runs,
};
use clap::Subcommand;
use ellwand_contract::people::{GetPerson, ListPeople, Person};

/// List or show the people of the workshop, or set whether hours are own or paid
///
/// Own hours count in prices, never in the stock value of garments; without a rate of their own they use the owner's, else the
/// year's figures. Hours of a paid person are wages and need that person's rate.
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
    #[command(after_help = "Example:\n  ellwand person list")]
    List(ListPeople),
    #[command(after_help = "Example:\n  ellwand person show anna")]
    Show(GetPerson),
    Set(set::Args),
}

runs!(Args, Verb: List, Show, Set);

fn table(people: &[Person]) -> Table {
    let mut table = Table::headed("person | hours | an hour");
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
        let none = match (person.rates_shown, person.paid) {
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
