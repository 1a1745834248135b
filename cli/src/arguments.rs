//! The command line: flags that every command takes, and the list of commands.

use crate::{commands::Command, global::Global};
use clap::Parser;

/// Measure cloth, promise it, and cost what you make
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
