//! `ellwand manual`: the manual pages.

use crate::{arguments::Cli, command_error::CommandError, context::Context, verb::Run};
use clap::CommandFactory;
use std::path::PathBuf;

/// Write the manual pages into a folder
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand manual ~/.local/share/man/man1")]
pub struct Args {
    /// Folder, such as ~/.local/share/man/man1
    #[arg(value_name = "FOLDER")]
    folder: PathBuf,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let folder = &self.folder;
        std::fs::create_dir_all(folder)
            .and_then(|()| clap_mangen::generate_to(Cli::command(), folder))
            .map_err(|error| {
                CommandError::usage(format!(
                    "{} cannot be written to: {error}",
                    folder.display()
                ))
            })?;
        context.ui.status(format!(
            "Wrote the manual pages to {}; start with man ellwand.",
            folder.display()
        ));
        Ok(())
    }
}
