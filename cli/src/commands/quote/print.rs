//! `ellwand quote print`.

use crate::{command_error::CommandError, context::Context, file::write_new, page, verb::Run};
use ellwand_contract::quotations::GetQuotation;
use std::path::PathBuf;

/// Write a quotation as a page or a PDF, for the customer or for the workshop
///
/// The customer's sheet shows none of the workshop's figures. An existing file is replaced only with --yes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote print Q1 --pdf quotation.pdf
  ellwand quote print Q1 --version 1 --html quotation.html
  ellwand quote print Q1 --inside --pdf internal.pdf")]
#[command(group(clap::ArgGroup::new("form").required(true).multiple(true).args(["html", "pdf"])))]
pub struct Args {
    #[command(flatten)]
    act: GetQuotation,
    /// Write the workshop's sheet, with all figures
    #[arg(long)]
    inside: bool,
    /// Write a page for a browser to this file
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Write a PDF to this file
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let answer = context.call(&self.act)?;
        let fault = |error: page::PageError| CommandError::usage(error.to_string());
        let mut written = Vec::new();
        if let Some(path) = &self.html {
            written.push((
                path,
                page::html(&answer, self.inside)
                    .map_err(fault)?
                    .into_bytes(),
            ));
        }
        if let Some(path) = &self.pdf {
            written.push((path, page::pdf(&answer, self.inside).map_err(fault)?));
        }
        for (path, bytes) in &written {
            write_new(path, bytes, context.is_yes())?;
        }
        if self.pdf.is_some() {
            let lost: Vec<String> = page::lost(&answer, self.inside)
                .map_err(fault)?
                .iter()
                .map(ToString::to_string)
                .collect();
            if !lost.is_empty() {
                let lost = lost.join(" ");
                context.ui.warning(format!(
                    "the PDF cannot show {lost} and has ? instead; --html has every letter"
                ));
            }
        }
        if !context.json(&answer)? {
            let files: Vec<String> = written
                .iter()
                .map(|(path, _)| path.display().to_string())
                .collect();
            context.ui.status(format!(
                "Wrote {} to {}.",
                self.act.quotation,
                files.join(" and ")
            ));
        }
        Ok(())
    }
}
