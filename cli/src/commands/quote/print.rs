//! `ellwand quote print`.

use crate::{command_error::CommandError, context::Context, page};
use ellwand_contract::quotations::GetQuotation;
use ellwand_domain::code::QuotationCode;
use std::{
    fs::OpenOptions,
    io::{ErrorKind, Write},
    path::{Path, PathBuf},
};

/// Write a quotation as a page or a PDF, for the customer or for the workshop
///
/// The customer's sheet holds no figure of the workshop's. A file that is there already is replaced with --yes only.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote print Q1 --pdf quotation.pdf
  ellwand quote print Q1 --version 1 --html quotation.html
  ellwand quote print Q1 --inside --pdf internal.pdf")]
#[command(group(clap::ArgGroup::new("form").required(true).multiple(true).args(["html", "pdf"])))]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    /// Which version; default the newest
    #[arg(long, value_name = "N")]
    version: Option<i64>,
    /// The workshop's sheet, with all figures
    #[arg(long)]
    inside: bool,
    /// As a page for a browser, to this file
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// As a PDF, to this file
    #[arg(long, value_name = "FILE")]
    pdf: Option<PathBuf>,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetQuotation { quotation: args.quotation, version: args.version })?;
    let fault = |error: page::PageError| CommandError::usage(error.to_string());
    let mut written = Vec::new();
    if let Some(path) = &args.html {
        written.push((path, page::html(&answer, args.inside).map_err(fault)?.into_bytes()));
    }
    if let Some(path) = &args.pdf {
        written.push((path, page::pdf(&answer, args.inside).map_err(fault)?));
    }
    for (path, bytes) in &written {
        write(path, bytes, context.is_yes())?;
    }
    if !context.json(&answer)? {
        let files: Vec<String> = written.iter().map(|(path, _)| path.display().to_string()).collect();
        context.ui.status(format!("Wrote {} to {}.", args.quotation, files.join(" and ")));
    }
    Ok(())
}

/// Writes a new file, or replaces one where that was agreed to.
fn write(path: &Path, bytes: &[u8], replace: bool) -> Result<(), CommandError> {
    let mut options = OpenOptions::new();
    options.write(true).truncate(true);
    if replace {
        options.create(true)
    } else {
        options.create_new(true)
    };
    let place = path.display();
    let file = options.open(path).and_then(|mut file| file.write_all(bytes));
    file.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => CommandError::usage_hint(
            format!("{place} is there already"),
            "name another file, or say --yes to replace it",
        ),
        _ => CommandError::usage(format!("{place} cannot be written: {error}")),
    })
}
