//! `ellwand quote print`.

use super::files::{Files, fault};
use crate::{command_error::CommandError, context::Context, page, verb::Run};
use ellwand_contract::quotations::GetQuotation;

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
    #[command(flatten)]
    files: Files,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let answer = context.call(&self.act)?;
        let document = page::sheet(&answer, self.inside).map_err(fault)?;
        let files = self
            .files
            .write(context, document, answer.sheet.sender.as_ref())?;
        let files = files.unwrap_or_default();
        if !context.json(&answer)? {
            let wrote = format!("Wrote {} to {files}.", self.act.quotation);
            context.ui.status(wrote);
        }
        Ok(())
    }
}
