//! `ellwand workshop pay-rate`.

use super::show::{RateOf, show_rates};
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::workshop::{SetPayRate, Workshop};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop pay-rate owner 24.00
  ellwand workshop pay-rate anna 18.50 --paid --from 2026-10-01
  ellwand workshop pay-rate anna 21.00 --kind hand --from 2026-10-01
  ellwand workshop pay-rate anna --kind hand --from 2026-10-01 --forget")]
#[command(override_usage = "ellwand workshop pay-rate [OPTIONS] <PERSON> <PER_HOUR|--forget>")]
#[command(group = clap::ArgGroup::new("what").required(true).args(["per_hour", "forget"]))]
pub struct Args {
    #[command(flatten)]
    act: SetPayRate,
    /// Forget the rate that counts from just that day
    #[arg(long, conflicts_with = "paid")]
    forget: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.run(context)
    }
}

impl Verb for SetPayRate {
    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show_rates(context, &answer, RateOf::Person(&self.person));
        let (person, currency) = (&self.person, &answer.currency);
        let what = self
            .kind
            .map_or_else(String::new, |kind| format!(" at {kind} work"));
        context.ui.status(match &self.per_hour {
            Some(per_hour) => format!("Set an hour of {person}{what} to {per_hour} {currency}."),
            None => format!("Forgot that rate of {person}{what}."),
        });
        Ok(())
    }
}
