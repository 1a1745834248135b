//! `ellwand workshop overhead`.

use super::show::{RateOf, show_rates};
use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    verb::{Run, Verb},
};
use ellwand_contract::workshop::{SetOverheadRate, Workshop};

/// Set the overhead on a billable hour, from a date on
///
/// Give it per hour, or as the overhead of a period over its billable hours; the ratio is kept exact until a garment is
/// costed.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop overhead 6.50
  ellwand workshop overhead --amount 9600 --hours 1104h --from 2026-01-01")]
#[command(group = clap::ArgGroup::new("what").required(true).args(["per_hour", "amount"]))]
pub struct Args {
    /// Overhead per billable hour, in the workshop's currency: 6.50
    #[arg(value_name = "PER_HOUR", value_parser = typed::per_hour)]
    per_hour: Option<String>,
    /// Overhead of a period, with --hours: 9600
    #[arg(long, value_name = "AMOUNT", requires = "hours")]
    amount: Option<String>,
    #[command(flatten)]
    act: SetOverheadRate,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.amount = self.amount.or(self.per_hour).unwrap_or_default();
        self.act.run(context)
    }
}

impl Verb for SetOverheadRate {
    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show_rates(context, &answer, RateOf::Overhead);
        let (amount, currency) = (&self.amount, &answer.currency);
        let of = match &self.hours {
            Some(hours) => format!("over {hours}"),
            None => "an hour".to_owned(),
        };
        context
            .ui
            .status(format!("Set the overhead to {amount} {of}, in {currency}."));
        Ok(())
    }
}
