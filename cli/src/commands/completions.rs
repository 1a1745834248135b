//! `ellwand completions`: what a shell needs to complete commands and flags.

use crate::{arguments::Cli, command_error::CommandError, context::Context, verb::Run};
use clap::{CommandFactory, ValueEnum};
use clap_complete::Shell;

/// Print the completions of a shell
///
/// bash:  ellwand completions bash > ~/.local/share/bash-completion/completions/ellwand
///
/// zsh:   ellwand completions zsh > a folder of your fpath, as _ellwand
///
/// fish:  ellwand completions fish > ~/.config/fish/completions/ellwand.fish
#[derive(Debug, clap::Args)]
#[command(verbatim_doc_comment)]
#[command(after_help = "Example:
  ellwand completions bash > ~/.local/share/bash-completion/completions/ellwand")]
pub struct Args {
    /// Shell: bash, zsh or fish
    shell: Name,
}

/// Shells with completions.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Name {
    Bash,
    Zsh,
    Fish,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shell = match self.shell {
            Name::Bash => Shell::Bash,
            Name::Zsh => Shell::Zsh,
            Name::Fish => Shell::Fish,
        };
        let mut script = Vec::new();
        clap_complete::generate(shell, &mut Cli::command(), "ellwand", &mut script);
        context.ui.line(String::from_utf8_lossy(&script).trim_end());
        Ok(())
    }
}
