//! `ellwand operation set`.

use super::table;
use crate::{
    command_error::CommandError,
    context::Context,
    typed::chosen,
    ui::time::minutes,
    verb::{Run, Verb},
};
use ellwand_contract::operations::{SetOperation, UsualOperation};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand operation set hem --minutes 45m --kind hand
  ellwand operation set 'set in sleeves' --minutes 1h20 --kind machine
  ellwand operation set letters --minutes 15m --kind admin --unbillable")]
pub struct Args {
    #[command(flatten)]
    act: SetOperation,
    /// Charge labour and overhead for it [default: as before, else all kinds but admin]
    #[arg(long, overrides_with = "unbillable")]
    billable: bool,
    /// Charge neither labour nor overhead for it
    #[arg(long, overrides_with = "billable")]
    unbillable: bool,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.billable = chosen(self.billable, self.unbillable);
        self.act.run(context)
    }
}

impl Verb for SetOperation {
    fn show(
        &self,
        answer: UsualOperation,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        context.ui.table(&table(std::slice::from_ref(&answer)));
        context.ui.status(format!(
            "{} usually takes {} per garment.",
            answer.name,
            minutes(answer.minutes)
        ));
        Ok(())
    }
}
