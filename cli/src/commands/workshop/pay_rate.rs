//! `ellwand workshop pay-rate`.

use super::show::show;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::{self, checked},
};
use chrono::NaiveDate;
use ellwand_contract::workshop::SetPayRate;
use ellwand_domain::quantity::HourlyRate;

/// Set what an hour of a person costs, from a date on
///
/// Wages of a paid person enter the stock value of garments; an owner's hours count for prices, never for stock.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop pay-rate owner 24.00
  ellwand workshop pay-rate anna 18.50 --paid --from 2026-10-01")]
pub struct Args {
    /// Who: owner, or a paid person's name
    person: String,
    /// Per hour, in the workshop's currency, up to 4 digits after the point
    #[arg(value_name = "PER_HOUR", value_parser = checked::<HourlyRate>)]
    per_hour: String,
    /// A paid person
    #[arg(long)]
    paid: bool,
    /// From this day on; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    from: Option<NaiveDate>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let per_hour = args.per_hour.clone();
    let act = SetPayRate {
        id: context.new_id(),
        person: args.person.clone(),
        paid: args.paid,
        per_hour: args.per_hour,
        from: args.from,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer);
    context.ui.status(format!("Set an hour of {} to {per_hour} {}.", args.person, answer.currency));
    Ok(())
}
