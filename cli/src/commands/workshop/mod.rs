//! `ellwand workshop`: settings and rates.

mod close;
mod figures;
mod overhead;
mod pay_rate;
mod price_rule;
mod set;
mod show;
mod spent;
mod tax;
mod tax_reclaim;

use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, runs},
};
use clap::Subcommand;
use ellwand_contract::workshop::{CloseBooks, GetWorkshop};

/// Show or change the workshop's settings and rates
///
/// Without a command it shows the settings. They have sensible defaults and can be changed at any time, except the currency
/// (fixed by the first purchase or quotation) and how thread and trims are valued (fixed by the first receipt).
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop
  ellwand workshop set --currency EUR --zone Europe/Vienna --cutting-step 5cm
  ellwand workshop pay-rate owner 24.00
  ellwand workshop overhead --amount 9600 --hours 1104h
  ellwand workshop price-rule --margin 35% --stage 'deposit=40% of gross' \\\n    --stage balance
  ellwand workshop tax VAT 20%
  ellwand workshop tax-reclaim yes --from 2026-04-01
  ellwand workshop figures --pay 30000 --overhead 9600 --weeks 46 \\\n    --hours 40h --billable 60%
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31 --overhead 10200")]
pub struct Args {
    #[command(subcommand)]
    verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
enum Verb {
    #[command(
        after_help = "The general flag --units sets the units that the workshop reads.

Examples:
  ellwand workshop set --currency EUR --zone Europe/Vienna --units metric \\\n    --cutting-step 5cm --end-allowance 4cm
  ellwand workshop set --name 'Slipway Workshop' --address '3 Slip Lane' \\\n    --address '2450 Smallport'
  ellwand workshop set --telephone '0555 12' --logo mark.svg \\\n    --account 'Smallport Savings 12 34'
  ellwand workshop set --cash-step 0.05"
    )]
    Set(Box<set::Args>),
    PayRate(pay_rate::Args),
    PriceRule(price_rule::Args),
    Overhead(overhead::Args),
    Figures(figures::Args),
    Spent(spent::Args),
    Tax(tax::Args),
    TaxReclaim(tax_reclaim::Args),
    #[command(after_help = "Example:\n  ellwand workshop close 2026-09-30")]
    Close(CloseBooks),
}

runs!(Verb: Set, PayRate, PriceRule, Overhead, Figures, Spent, Tax, TaxReclaim, Close);

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        match self.verb {
            Some(verb) => verb.run(context),
            None => GetWorkshop {}.run(context),
        }
    }
}
