//! `ellwand workshop tax-reclaim`.

use super::show::show;
use crate::{command_error::CommandError, context::Context, typed};
use chrono::NaiveDate;
use ellwand_contract::workshop::SetTaxReclaim;

/// Say from which date on the tax on purchases is reclaimed: yes or no
///
/// A tax that comes back is no cost: it is kept with the purchase, and in no lot. A purchase follows what counts on its own
/// day, unless its charge says reclaim=yes or reclaim=no; before the first day, and where nothing is set, tax is a cost.
/// Purchases that are logged already keep what they have. Who may reclaim, and when, is for local law to say.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop tax-reclaim yes --from 2026-04-01
  ellwand workshop tax-reclaim no --from 2027-01-01
  ellwand workshop tax-reclaim --from 2027-01-01 --forget")]
pub struct Args {
    /// yes: it comes back and is no cost; no: it is a cost
    #[arg(value_name = "YES_OR_NO", value_parser = ["yes", "no"], required_unless_present = "forget")]
    reclaim: Option<String>,
    /// For purchases from this day on; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    from: Option<NaiveDate>,
    /// Take out what was said of just that day
    #[arg(long, conflicts_with = "reclaim")]
    forget: bool,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let reclaim = args.reclaim.as_deref().map(|word| word == "yes");
    let act = SetTaxReclaim {
        id: context.new_id(),
        reclaim,
        from: args.from,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer);
    context.ui.status(match reclaim {
        Some(true) => "Tax on purchases of that day and later is reclaimed, unless a charge says no.",
        Some(false) => {
            "Tax on purchases of that day and later is a cost, unless a charge says it is reclaimed."
        }
        None => "That day changes nothing any more.",
    });
    Ok(())
}
