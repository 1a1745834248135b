//! `ellwand completions`: what a shell needs to complete commands, flags, codes and names.

use crate::{command_error::CommandError, completion, context::Context, verb::Run};
use clap::ValueEnum;

/// Print what a shell needs to complete commands, flags, codes and names
///
/// bash:  ellwand completions bash > ~/.local/share/bash-completion/completions/ellwand
///
/// zsh:   ellwand completions zsh > a folder of your fpath, as _ellwand
///
/// fish:  ellwand completions fish > ~/.config/fish/completions/ellwand.fish
///
/// Codes and names come from the book that the command would use; where it does not answer in 0.3 s, none are offered. Do
/// it again after an upgrade.
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
        let name = match self.shell {
            Name::Bash => "bash",
            Name::Zsh => "zsh",
            Name::Fish => "fish",
        };
        let mut script = Vec::new();
        if let Some(shell) = completion::shell(name) {
            shell
                .write_registration(
                    completion::VARIABLE,
                    "ellwand",
                    "ellwand",
                    "ellwand",
                    &mut script,
                )
                .map_err(CommandError::Output)?;
        }
        context.ui.line(String::from_utf8_lossy(&script).trim_end());
        Ok(())
    }
}
