//! `ellwand workshop pay-rate`.

use super::show::show;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::{self, checked},
};
use chrono::NaiveDate;
use ellwand_contract::workshop::SetPayRate;
use ellwand_domain::{quantity::HourlyRate, setting::WorkKind};

/// Set what an hour of a person costs, from a date on
///
/// Wages of a paid person enter the stock value of garments; own hours count for prices, never for stock. Own hours of someone
/// without a rate take the owner's. A new name makes a person: own, or paid with --paid.
///
/// With --kind the rate is for one kind of work, and goes before the person's rate for all work, whichever is newer. To let both be alike again, set it to the same figure from a later day on. In quotations from
/// the plan own hours count by the year's figures, then by the owner's rate; an owner's rate of a kind goes before both.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop pay-rate owner 24.00
  ellwand workshop pay-rate anna 18.50 --paid --from 2026-10-01
  ellwand workshop pay-rate anna 21.00 --kind hand --from 2026-10-01
  ellwand workshop pay-rate anna --kind hand --from 2026-10-01 --forget")]
pub struct Args {
    /// Who: owner, or a person's name
    person: String,
    /// Per hour, in the workshop's currency, up to 4 digits after the point
    #[arg(value_name = "PER_HOUR", value_parser = checked::<HourlyRate>, required_unless_present = "forget")]
    per_hour: Option<String>,
    /// A paid person
    #[arg(long)]
    paid: bool,
    /// Only for this kind of work: machine, hand, cutting, fitting, pressing, admin
    #[arg(long, value_name = "KIND")]
    kind: Option<WorkKind>,
    /// From this day on [default: today; for a first rate from the beginning, though not into closed books]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    from: Option<NaiveDate>,
    /// Take out the rate that counts from just that day
    #[arg(long, conflicts_with_all = ["per_hour", "paid"])]
    forget: bool,
    /// Also where it changes the cost of garments that are finished
    #[arg(long)]
    really: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let Args {
        person,
        per_hour,
        paid,
        kind,
        from,
        forget: _,
        really,
    } = args;
    let act = SetPayRate {
        id: context.new_id(),
        person,
        paid,
        kind,
        per_hour,
        from,
        really,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer);
    let what = act
        .kind
        .map_or_else(String::new, |kind| format!(" at {kind} work"));
    context.ui.status(match &act.per_hour {
        Some(per_hour) => format!(
            "Set an hour of {}{what} to {per_hour} {}.",
            act.person, answer.currency
        ),
        None => format!("That rate of {}{what} is forgotten.", act.person),
    });
    Ok(())
}
