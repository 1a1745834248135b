//! `ellwand workshop tax`.

use super::show::show;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::workshop::SetTaxRate;

/// Set a tax rate by its name, or forget it; quotations keep what they have
///
/// The first one is taken where a quotation names none. How tax is rounded and shown is set with `ellwand workshop set`.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop tax VAT 20%
  ellwand workshop tax exempt 0%
  ellwand workshop tax exempt --forget")]
pub struct Args {
    /// As invoices call it
    name: String,
    /// Share of the net amount: 20%
    #[arg(
        value_name = "RATE",
        required_unless_present = "forget",
        allow_negative_numbers = true
    )]
    rate: Option<String>,
    /// Take it out
    #[arg(long, conflicts_with = "rate")]
    forget: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = SetTaxRate {
        id: context.new_id(),
        name: args.name,
        rate: args.rate,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer);
    context.ui.status(match &act.rate {
        Some(rate) => format!("Set the tax {} to {rate}.", act.name),
        None => format!("{} is no tax rate any more.", act.name),
    });
    Ok(())
}
