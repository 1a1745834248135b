//! `ellwand workshop tax-reclaim`.

use super::show::show_taxes;
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::workshop::{SetTaxReclaim, Workshop};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop tax-reclaim yes --from 2026-04-01
  ellwand workshop tax-reclaim no --from 2027-01-01
  ellwand workshop tax-reclaim --from 2027-01-01 --forget")]
#[command(group = clap::ArgGroup::new("what").required(true).args(["reclaim", "forget"]))]
pub struct Args {
    #[command(flatten)]
    act: SetTaxReclaim,
    /// Forget the setting of just that day
    #[arg(long)]
    forget: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.run(context)
    }
}

impl Verb for SetTaxReclaim {
    fn show(&self, answer: Workshop, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show_taxes(context, &answer);
        context.ui.status(match self.reclaim {
            Some(true) => {
                "Tax on purchases of that day and later is reclaimed, unless a charge says no."
            }
            Some(false) => {
                "Tax on purchases of that day and later is a cost, unless a charge says it is reclaimed."
            }
            None => "That day no longer changes anything.",
        });
        Ok(())
    }
}
