//! `ellwand workshop tax`.

use super::show::show_taxes;
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::workshop::{SetTaxRate, Workshop};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop tax VAT 20%
  ellwand workshop tax exempt 0%
  ellwand workshop tax exempt --forget")]
#[command(override_usage = "ellwand workshop tax [OPTIONS] <NAME> <RATE|--forget>")]
#[command(group = clap::ArgGroup::new("what").required(true).args(["rate", "forget"]))]
pub struct Args {
    #[command(flatten)]
    act: SetTaxRate,
    /// Forget the rate
    #[arg(long)]
    forget: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.run(context)
    }
}

impl Verb for SetTaxRate {
    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show_taxes(context, &answer);
        context.ui.status(match &self.rate {
            Some(rate) => format!("Set the tax {} to {rate}.", self.name),
            None => format!("{} is no longer a tax rate.", self.name),
        });
        Ok(())
    }
}
