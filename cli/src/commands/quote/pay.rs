//! `ellwand quote pay`.

use crate::{command_error::CommandError, context::Context, typed, ui::quotation};
use chrono::NaiveDate;
use ellwand_contract::quotations::LogPayment;
use ellwand_domain::code::QuotationCode;

/// Log what a customer paid, or with a minus what was paid back
///
/// It is written down; nothing is collected. What was paid before delivery is owed to the customer until then. Where the
/// quotation was made while cash came in steps (`ellwand workshop set --cash-step`), `quote show` says what each stage is in cash.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote pay Q1 120.00 --note 'bank transfer'
  ellwand quote pay Q1 12.30 --cash
  ellwand quote pay Q1 -20.00 --note 'paid back'")]
pub struct Args {
    /// For which
    quotation: QuotationCode,
    /// Amount in the quotation's currency
    #[arg(allow_negative_numbers = true)]
    amount: String,
    /// It was paid in cash: what a stage comes to in cash settles it, and the difference of rounding is noted
    #[arg(long)]
    cash: bool,
    /// Day; default today
    #[arg(long, value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Remark: bank transfer
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// More was paid than is to be paid, and it is so
    #[arg(long)]
    really: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let Args {
        quotation: code,
        amount,
        cash,
        date,
        note,
        really,
    } = args;
    let act = LogPayment {
        id: context.new_id(),
        quotation: code,
        amount: amount.clone(),
        cash,
        date,
        note,
        really,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    quotation::payments(context.ui, &answer);
    let how = if cash { " in cash" } else { "" };
    context.ui.status(format!(
        "Logged {amount} {}{how} on {code}.",
        answer.sheet.currency
    ));
    context.ui.notes(&answer.notes);
    Ok(())
}
