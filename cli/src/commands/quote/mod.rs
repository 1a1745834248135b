//! `ellwand quote`: quotations, from the price to the payment.

mod accept;
mod again;
mod close;
mod cloth;
mod files;
mod list;
mod make;
mod options;
mod outcome;
mod pay;
mod print;
mod receipt;
mod show;
mod words;

use crate::verb::runs;
use clap::Subcommand;
use ellwand_contract::quotations::{CloseQuotation, ListQuotations, LogPayment};

/// Make, revise, print and accept quotations, log payments, see the outcome
///
/// A quotation is frozen: what you buy, work or set later never changes it; `quote again` makes a new version. Figures are
/// for planning: for tax, deposits and terms follow local law and an accountant's advice.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote make G5 --margin 35% --stage 'deposit=40% of gross'
  ellwand quote show Q1 --inside
  ellwand quote print Q1 --pdf quotation.pdf
  ellwand quote accept Q1 --reserve
  ellwand quote pay Q1 120.00 --note cash
  ellwand quote outcome Q1")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Make(Box<make::Args>),
    Show(show::Args),
    #[command(after_help = "Examples:\n  ellwand quote list\n  ellwand quote list --state open")]
    List(ListQuotations),
    Again(Box<again::Args>),
    Print(print::Args),
    Accept(accept::Args),
    #[command(after_help = "Examples:
  ellwand quote pay Q1 120.00 --note 'bank transfer'
  ellwand quote pay Q1 12.30 --cash
  ellwand quote pay Q1 -20.00 --note 'paid back'")]
    Pay(LogPayment),
    Receipt(receipt::Args),
    Words(words::Args),
    #[command(after_help = "Examples:
  ellwand quote close Q1
  ellwand quote close Q2 --keep '100% of materials + 50% of labour'")]
    Close(CloseQuotation),
    Outcome(outcome::Args),
}

runs!(Args, Verb: Make, Show, List, Again, Print, Accept, Pay, Receipt, Words, Close, Outcome);
