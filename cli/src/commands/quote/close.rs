//! `ellwand quote close`.

use crate::{command_error::CommandError, context::Context, ui::quotation};
use ellwand_contract::quotations::CloseQuotation;
use ellwand_domain::{code::QuotationCode, setting::QuotationState};

/// Close a quotation that comes to nothing, or cancel one that was accepted
///
/// What was promised with an open one is given back; promises of one that was accepted stay with the garment and are released
/// by cancelling that. A quotation with supplements is cancelled after them, each with what is kept of its own payments.
/// `ellwand undo` opens it again.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote close Q1
  ellwand quote close Q2 --keep '100% of materials + 50% of labour'")]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    /// What is kept of what was paid, when it had been accepted; labour and materials are what was to be paid for them, after
    /// discounts and with tax
    #[arg(long, value_name = "TERMS")]
    keep: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let code = args.quotation;
    let act = CloseQuotation {
        id: context.new_id(),
        quotation: code,
        keep: args.keep,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    quotation::payments(context.ui, &answer);
    let done = if answer.state == QuotationState::Cancelled {
        "Cancelled"
    } else {
        "Closed"
    };
    context.ui.status(format!("{done} {code}."));
    context.ui.notes(&answer.notes);
    Ok(())
}
