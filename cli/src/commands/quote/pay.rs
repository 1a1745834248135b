//! `ellwand quote pay`.

use crate::{command_error::CommandError, context::Context, typed, ui::quotation};
use chrono::NaiveDate;
use ellwand_contract::quotations::LogPayment;
use ellwand_domain::code::QuotationCode;

/// Log what a customer paid, or with a minus what was paid back
///
/// It is written down; nothing is collected. What was paid before delivery is owed to the customer until then.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote pay Q1 120.00 --note 'bank transfer'
  ellwand quote pay Q1 -20.00 --note 'paid back'")]
pub struct Args {
    /// For which
    quotation: QuotationCode,
    /// Amount in the quotation's currency
    #[arg(allow_negative_numbers = true)]
    amount: String,
    /// Day; default today
    #[arg(long, value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Remark: cash, bank transfer
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let Args { quotation: code, amount, date, note } = args;
    let act = LogPayment { id: context.new_id(), quotation: code, amount: amount.clone(), date, note };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    quotation::payments(context.ui, &answer);
    context.ui.status(format!("Logged {amount} {} on {code}.", answer.sheet.currency));
    context.ui.notes(&answer.notes);
    Ok(())
}
