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
pub mod help;
pub mod history;
pub mod login;
pub mod logout;
pub mod lot;
pub mod manual;
pub mod material;
pub mod operation;
pub mod person;
pub mod quote;
pub mod release;
pub mod reserve;
pub mod seam;
pub mod shelf;
pub mod supplier;
pub mod thread_count;
pub mod undo;
pub mod wash;
mod watch;
pub mod work;
pub mod workshop;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// What to do. The first line of each command's help stands on its `Args`.
#[derive(Debug, Subcommand)]
pub enum Command {
    Buy(buy::Args),
    Customer(customer::Args),
    Material(material::Args),
    Operation(operation::Args),
    Person(person::Args),
    Supplier(supplier::Args),
    Workshop(workshop::Args),
    Garment(garment::Args),
    Seam(seam::Args),
    Candidates(candidates::Args),
    Reserve(reserve::Args),
    Release(release::Args),
    Cut(cut::Args),
    Work(work::Args),
    Cost(cost::Args),
    Quote(quote::Args),
    Details(details::Args),
    Demo(demo::Args),
    Shelf(shelf::Args),
    Lot(lot::Args),
    Wash(wash::Args),
    ThreadCount(thread_count::Args),
    History(history::Args),
    Undo(undo::Args),
    Audit(audit::Args),
    Login(login::Args),
    Logout(logout::Args),
    Completions(completions::Args),
    Manual(manual::Args),
    Help(help::Args),
}

impl Command {
    /// Runs it.
    ///
    /// # Errors
    /// Why it ended without its result.
    pub fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        match self {
            Self::Buy(args) => buy::run(args, context),
            Self::Customer(args) => customer::run(args, context),
            Self::Material(args) => material::run(args, context),
            Self::Operation(args) => operation::run(args, context),
            Self::Person(args) => person::run(args, context),
            Self::Supplier(args) => supplier::run(args, context),
            Self::Workshop(args) => workshop::run(args, context),
            Self::Garment(args) => garment::run(args, context),
            Self::Seam(args) => seam::run(&args, context),
            Self::Candidates(args) => candidates::run(&args, context),
            Self::Reserve(args) => reserve::run(args, context),
            Self::Release(args) => release::run(args, context),
            Self::Cut(args) => cut::run(args, context),
            Self::Work(args) => work::run(args, context),
            Self::Cost(args) => cost::run(&args, context),
            Self::Quote(args) => quote::run(args, context),
            Self::Details(args) => details::run(&args, context),
            Self::Demo(args) => demo::run(&args, context),
            Self::Shelf(args) => shelf::run(&args, context),
            Self::Lot(args) => lot::run(args, context),
            Self::Wash(args) => wash::run(args, context),
            Self::History(args) => history::run(args, context),
            Self::Undo(args) => undo::run(args, context),
            Self::Audit(args) => audit::run(args, context),
            Self::Login(args) => login::run(&args, context),
            Self::Logout(args) => logout::run(&args, context),
            Self::Completions(args) => completions::run(args, context),
            Self::ThreadCount(args) => thread_count::run(&args, context),
            Self::Manual(args) => manual::run(&args, context),
            Self::Help(args) => help::run(&args, context),
        }
    }
}

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

    #[test]
    fn the_command_line_is_well_formed() {
        Cli::command().debug_assert();
    }

    #[test]
    fn every_command_shows_an_example() {
        let mut without = Vec::new();
        each(&Cli::command(), "ellwand", &mut |name, command| {
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
        each(&Cli::command(), "ellwand", &mut |name, command| {
            let own = command.get_arguments().filter_map(clap::Arg::get_long);
            taken.extend(
                own.filter(|long| global.contains(long))
                    .map(|long| format!("{name} --{long}")),
            );
        });
        assert_eq!(taken, Vec::<String>::new());
    }
}
