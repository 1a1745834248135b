//! `ellwand quote show`.

use crate::{command_error::CommandError, context::Context, ui::quotation};
use ellwand_contract::quotations::GetQuotation;
use ellwand_domain::code::QuotationCode;

/// Show a quotation as the customer reads it, and what is paid
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote show Q1
  ellwand quote show Q1 --version 1 --inside")]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    /// Which version; default the newest
    #[arg(long, value_name = "N")]
    version: Option<i64>,
    /// Also what the workshop reads: costs, floor, profit, what the hour earns
    #[arg(long)]
    inside: bool,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetQuotation {
        quotation: args.quotation,
        version: args.version,
    })?;
    if context.json(&answer)? {
        return Ok(());
    }
    if args.inside && answer.inside.is_none() {
        context
            .ui
            .warning("what is behind the price is told to those who see pay rates");
    }
    quotation::show(context, &answer, args.inside)?;
    if !answer.changes.is_empty() {
        context.ui.blank();
        quotation::changes(context.ui, &answer);
    }
    Ok(())
}
