//! Files that a sheet is written to.

use crate::{
    command_error::CommandError,
    context::Context,
    file::write_new,
    page::{Document, PageError},
};
use ellwand_contract::{logos::GetLogo, quotations::Sender};
use std::path::PathBuf;

// Where a sheet goes. A doc comment would become the help of the command.
#[derive(Debug, clap::Args)]
pub(super) struct Files {
    /// Write a page for a browser to this file
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Write a PDF to this file
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
}

/// A sheet that is not drawn, for the command line.
pub(super) fn fault(error: PageError) -> CommandError {
    CommandError::usage(error.to_string())
}

impl Files {
    /// Writes the sheet under the logo of its sender, and names the files; nothing where none is asked for.
    ///
    /// # Errors
    /// Exit 2 where a file is there already, without `--yes`, or cannot be written.
    pub(super) fn write(
        &self,
        context: &mut Context<'_, '_>,
        document: Document,
        sender: Option<&Sender>,
    ) -> Result<Option<String>, CommandError> {
        if self.html.is_none() && self.pdf.is_none() {
            return Ok(None);
        }
        let document = match sender.and_then(|sender| sender.logo) {
            None => document,
            Some(logo) => {
                let logo = context.call(&GetLogo { logo })?;
                document.with_logo(&logo).map_err(fault)?
            }
        };
        let mut written = Vec::new();
        if let Some(path) = &self.html {
            written.push((path, document.html().map_err(fault)?.into_bytes()));
        }
        if let Some(path) = &self.pdf {
            written.push((path, document.pdf().map_err(fault)?));
        }
        for (path, bytes) in &written {
            write_new(path, bytes, context.is_yes())?;
        }
        let lost: Vec<String> = document.lost().iter().map(ToString::to_string).collect();
        if self.pdf.is_some() && !lost.is_empty() {
            let lost = lost.join(" ");
            context.ui.warning(format!(
                "the PDF's font has no {lost}: empty frames stand there; --html has every letter"
            ));
        }
        let files = written.iter().map(|(path, _)| path.display().to_string());
        let files = files.collect::<Vec<_>>().join(" and ");
        Ok(Some(files))
    }
}
