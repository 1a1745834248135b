//! The commands: a module per noun or daily act, each with its arguments and its `run`.

pub mod audit;
pub mod buy;
pub mod candidates;
pub mod completions;
pub mod cost;
pub mod customer;
pub mod cut;
pub mod demo;
pub mod details;
pub mod garment;
mod goods;
pub mod help;
pub mod history;
pub mod lay;
pub mod login;
pub mod logout;
pub mod lot;
pub mod manual;
pub mod material;
mod month;
pub mod operation;
mod pattern;
pub mod person;
pub mod quote;
pub mod release;
pub mod reserve;
pub mod seam;
pub mod shelf;
pub mod supplier;
pub mod thread_count;
pub mod token;
pub mod undo;
pub mod value;
pub mod wash;
mod watch;
pub mod whoami;
pub mod work;
pub mod workshop;

use crate::verb::runs;
use clap::Subcommand;
use ellwand_contract::{
    audit::RunAudit,
    costs::GetCost,
    details::ListDetails,
    goods::{DiscardGoods, GiveGoods, SellGoods},
    month::GetMonth,
    people::GetSelf,
    reservations::Release,
};

/// The commands. The first line of a command's help is on its `Args`, or on the request that it sends.
#[derive(Debug, Subcommand)]
#[command(defer = true)]
pub enum Command {
    Buy(buy::Args),
    Customer(customer::Args),
    Material(material::Args),
    Operation(operation::Args),
    Person(person::Args),
    Supplier(supplier::Args),
    Workshop(workshop::Args),
    Garment(garment::Args),
    Pattern(pattern::Args),
    Seam(seam::Args),
    Candidates(candidates::Args),
    Lay(lay::Args),
    Reserve(reserve::Args),
    #[command(
        after_help = "Examples:\n  ellwand release R12\n  ellwand release R12 R13\n  ellwand release --garment G5"
    )]
    Release(Release),
    Cut(cut::Args),
    Work(work::Args),
    #[command(after_help = "Example:\n  ellwand cost G5")]
    Cost(GetCost),
    Quote(quote::Args),
    #[command(
        after_help = "Examples:\n  ellwand details\n  ellwand details --detail 'hand-rolled hem'"
    )]
    Details(ListDetails),
    Demo(demo::Args),
    Shelf(shelf::Args),
    Lot(lot::Args),
    Wash(wash::Args),
    #[command(
        after_help = "Examples:\n  ellwand give L1.2 60cm --reason 'for the school fair'\n  ellwand give L4.1 --own-use"
    )]
    Give(GiveGoods),
    #[command(
        after_help = "Examples:\n  ellwand sell L1.2 1.50m --price 24.00/m --to Ada\n  ellwand sell L3.1 12 --price 9.00 --tax VAT"
    )]
    Sell(SellGoods),
    #[command(after_help = "Example:\n  ellwand discard L1.2 40cm --reason 'moth holes'")]
    Discard(DiscardGoods),
    ThreadCount(thread_count::Args),
    #[command(
        after_help = "Examples:\n  ellwand month\n  ellwand month 2026-11\n  ellwand month --from 2026-01-01 --to 2026-03-31"
    )]
    Month(GetMonth),
    Value(value::Args),
    History(history::Args),
    Undo(undo::Args),
    #[command(after_help = "Exit code 1 when something is off.\n\nExample:\n  ellwand audit")]
    Audit(RunAudit),
    Token(token::Args),
    Login(login::Args),
    #[command(after_help = "Example:\n  ellwand whoami")]
    Whoami(GetSelf),
    Logout(logout::Args),
    Completions(completions::Args),
    Manual(manual::Args),
    Help(help::Args),
}

runs!(
    Command: Buy, Customer, Material, Operation, Person, Supplier, Workshop, Garment, Pattern, Seam,
    Candidates, Lay, Reserve, Release, Cut, Work, Cost, Quote, Details, Demo, Shelf, Lot, Wash,
    Give, Sell, Discard, ThreadCount, Month, Value, History, Undo, Audit, Token, Login, Whoami, Logout, Completions, Manual, Help
);

#[cfg(test)]
mod tests {
    use crate::arguments::Cli;
    use clap::CommandFactory;

    /// Calls `check` with every command that does something, and its name.
    fn each(command: &clap::Command, name: &str, check: &mut dyn FnMut(&str, &clap::Command)) {
        for inner in command.get_subcommands() {
            let name = format!("{name} {}", inner.get_name());
            check(&name, inner);
            each(inner, &name, check);
        }
    }

    fn built() -> clap::Command {
        let mut command = Cli::command();
        command.build();
        command
    }

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }

    #[test]
    fn every_command_shows_an_example() {
        let mut without = Vec::new();
        each(&built(), "ellwand", &mut |name, command| {
            let help = command
                .get_after_help()
                .map(ToString::to_string)
                .unwrap_or_default();
            let has_its_own = command.has_subcommands() && command.is_subcommand_required_set();
            if name != "ellwand help" && !has_its_own && !help.contains("ellwand ") {
                without.push(name.to_owned());
            }
        });
        assert_eq!(without, Vec::<String>::new());
    }

    #[test]
    fn no_command_takes_a_flag_away_that_every_command_has() {
        let global = ["json", "server", "database", "yes", "id"];
        let mut taken = Vec::new();
        each(&built(), "ellwand", &mut |name, command| {
            let own = command.get_arguments().filter(|arg| !arg.is_global_set());
            let own = own.filter_map(clap::Arg::get_long);
            taken.extend(
                own.filter(|long| global.contains(long))
                    .map(|long| format!("{name} --{long}")),
            );
        });
        assert_eq!(taken, Vec::<String>::new());
    }
}
