//! `ellwand workshop overhead`.

use super::show::show;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::{self, checked},
};
use chrono::NaiveDate;
use ellwand_contract::workshop::SetOverheadRate;
use ellwand_domain::quantity::{HourlyRate, Minutes};

/// Set the overhead on a billable hour, from a date on
///
/// Typed per hour, or as the overhead of a period over its billable hours; the ratio is kept, so nothing is
/// rounded before a garment is costed.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop overhead 6.50
  ellwand workshop overhead --amount 9600 --hours 1104h --from 2026-01-01")]
pub struct Args {
    /// Per billable hour, in the workshop's currency
    #[arg(value_name = "PER_HOUR", value_parser = checked::<HourlyRate>, required_unless_present = "amount")]
    per_hour: Option<String>,
    /// Overhead of a period
    #[arg(
        long,
        value_name = "AMOUNT",
        requires = "hours",
        conflicts_with = "per_hour"
    )]
    amount: Option<String>,
    /// Billable hours of that period: 1104h
    #[arg(long, value_name = "HOURS", requires = "amount", value_parser = checked::<Minutes>)]
    hours: Option<String>,
    /// From this day on [default: today; for a first rate from the beginning, though not into closed books]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    from: Option<NaiveDate>,
    /// Also where it changes the cost of garments that are finished
    #[arg(long)]
    really: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let amount = args.amount.or(args.per_hour).unwrap_or_default();
    let said = match &args.hours {
        Some(hours) => format!("{amount} over {hours}"),
        None => format!("{amount} an hour"),
    };
    let Args {
        hours,
        from,
        really,
        ..
    } = args;
    let act = SetOverheadRate {
        id: context.new_id(),
        amount,
        hours,
        from,
        really,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer);
    context.ui.status(format!(
        "Set the overhead to {said}, in {}.",
        answer.currency
    ));
    Ok(())
}
