//! `ellwand workshop`: settings and rates.

mod close;
mod figures;
mod overhead;
mod pay_rate;
mod set;
mod show;
mod spent;
mod tax;
mod tax_reclaim;

use crate::{command_error::CommandError, context::Context};
use clap::Subcommand;

/// Show or change the workshop's settings and rates
///
/// Without a further word the settings are shown. They have sensible defaults and can be changed at any time, but
/// for the currency (fixed by the first purchase or quotation) and the way thread and trims are valued (fixed by the first receipt).
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop
  ellwand workshop set --currency EUR --zone Europe/Vienna --cutting-step 5cm
  ellwand workshop pay-rate owner 24.00
  ellwand workshop overhead --amount 9600 --hours 1104h
  ellwand workshop tax VAT 20%
  ellwand workshop tax-reclaim yes --from 2026-04-01
  ellwand workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31 --overhead 10200")]
pub struct Args {
    #[command(subcommand)]
    verb: Option<Verb>,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Set(set::Args),
    PayRate(pay_rate::Args),
    Overhead(overhead::Args),
    Figures(figures::Args),
    Spent(spent::Args),
    Tax(tax::Args),
    TaxReclaim(tax_reclaim::Args),
    Close(close::Args),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        None => show::run(context),
        Some(Verb::Set(args)) => set::run(args, context),
        Some(Verb::PayRate(args)) => pay_rate::run(args, context),
        Some(Verb::Overhead(args)) => overhead::run(args, context),
        Some(Verb::Figures(args)) => figures::run(args, context),
        Some(Verb::Spent(args)) => spent::run(args, context),
        Some(Verb::Tax(args)) => tax::run(args, context),
        Some(Verb::TaxReclaim(args)) => tax_reclaim::run(&args, context),
        Some(Verb::Close(args)) => close::run(&args, context),
    }
}
