//! The command line: flags that every command takes, and the list of commands.

use crate::commands::Command;
use clap::{Args, Parser};
use ellwand_domain::setting::UnitSystem;
use uuid::Uuid;

/// Measure cloth, promise it, and say what it costs
///
/// Ellwand keeps the book of a garment maker's workshop: purchases with their landed cost, the shelf in lengths
/// that can really be cut, promises that survive the pre-wash, hours, and the cost of every garment.
///
/// Lengths, masses and money are typed as people write them: 2.5m, 250cm, "2 3/4 yd", 60in, 270gsm, 8oz/yd2,
/// 1.24kg, 2h30, EUR 12.50. A number without a unit is refused.
#[derive(Debug, Parser)]
#[command(
    name = "ellwand",
    version,
    max_term_width = 100,
    propagate_version = false,
    disable_help_subcommand = true
)]
#[command(
    after_help = "Exit codes: 0 done, 1 refused by a rule, 2 command line, file or config, \
    3 unreachable or failed (safe to repeat), 4 not allowed, 130 interrupted"
)]
pub struct Cli {
    /// Flags of every command.
    #[command(flatten)]
    pub global: Global,
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// Flags that every command takes.
#[derive(Debug, Clone, Default, Args)]
#[command(next_help_heading = "Everywhere")]
pub struct Global {
    /// Print the answer as JSON, exact to the millionth
    #[arg(long, global = true)]
    pub json: bool,
    /// Show lengths and masses in these units: metric or imperial
    #[arg(long, global = true, value_name = "UNITS")]
    pub units: Option<UnitSystem>,
    /// Ask this server instead of a book on this machine
    #[arg(long, global = true, value_name = "URL", conflicts_with = "database")]
    pub server: Option<String>,
    /// Use the book in this file
    #[arg(long, global = true, value_name = "FILE")]
    pub database: Option<String>,
    /// Ask no questions: answer them with yes
    #[arg(long, global = true)]
    pub yes: bool,
    /// Repeat the request of this id: it is booked at most once
    #[arg(long, global = true, value_name = "UUID")]
    pub id: Option<Uuid>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn flags_of_commands_do_not_clash() {
        Cli::command().debug_assert();
    }

    #[test]
    fn general_flags_may_stand_anywhere() {
        for line in [
            ["ellwand", "--json", "buy", "list"],
            ["ellwand", "buy", "--json", "list"],
            ["ellwand", "buy", "list", "--json"],
        ] {
            assert!(
                Cli::try_parse_from(line).expect("a command").global.json,
                "{line:?}"
            );
        }
    }
}
