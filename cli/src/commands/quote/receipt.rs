//! `ellwand quote receipt`.

use super::files::Files;
use crate::{command_error::CommandError, context::Context, page, ui::quotation, verb::Run};
use ellwand_contract::quotations::{GetQuotation, Payment, Quotation};
use ellwand_domain::code::QuotationCode;
use std::num::NonZeroUsize;

/// Show a receipt for what was paid, with what is still owed, or write it as a page or a PDF
///
/// It has the head and the words of the version that was accepted. An existing file is replaced only with --yes.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote receipt Q1
  ellwand quote receipt Q1 --pdf receipt.pdf
  ellwand quote receipt Q1 --payment 1 --html receipt.html")]
pub struct Args {
    /// Quotation code, such as Q1
    quotation: QuotationCode,
    /// Which payment, as quote show counts them [default: the latest]
    #[arg(long, value_name = "N")]
    payment: Option<NonZeroUsize>,
    #[command(flatten)]
    files: Files,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let code = self.quotation;
        let mut act = GetQuotation {
            quotation: code,
            version: None,
        };
        let mut answer = context.call(&act)?;
        if answer
            .accepted
            .is_some_and(|accepted| accepted != answer.version)
        {
            act.version = answer.accepted;
            answer = context.call(&act)?;
        }
        let payment = self.chosen(&answer)?;
        let sender = quotation::agreed(&answer).sender.as_ref();
        let receipt = page::receipt(&answer, payment);
        let files = self.files.write(context, receipt, sender)?;
        if context.json(payment)? {
            return Ok(());
        }
        match files {
            Some(files) => {
                let receipt = format!("Wrote the receipt {} to {files}.", payment.booking);
                context.ui.status(receipt);
            }
            None => {
                quotation::receipt(context.ui, &answer, payment);
                context.ui.hint(format!(
                    "for the customer: ellwand quote receipt {code} --pdf receipt.pdf"
                ));
            }
        }
        Ok(())
    }
}

impl Args {
    fn chosen<'p>(&self, answer: &'p Quotation) -> Result<&'p Payment, CommandError> {
        let (code, payments) = (self.quotation, &answer.standing.payments);
        let chosen = match self.payment {
            None => payments.last(),
            Some(number) => payments.get(number.get().saturating_sub(1)),
        };
        chosen.ok_or_else(|| match payments.len() {
            0 => CommandError::usage_hint(
                format!("nothing is paid on {code}, so there is no receipt"),
                format!("log a payment with ellwand quote pay {code} 120.00"),
            ),
            count => CommandError::usage_hint(
                format!(
                    "{code} has {}",
                    ellwand_contract::text::counted(count, "payment")
                ),
                format!("ellwand quote show {code} lists them; give --payment 1 to {count}"),
            ),
        })
    }
}
