//! `ellwand person set`.

use super::{mark, table};
use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::people::{Person, SetPerson};

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand person set anna --paid
  ellwand person set 'Marte Holm' --own")]
#[command(override_usage = "ellwand person set [OPTIONS] <NAME> <--own|--paid>")]
#[command(group = clap::ArgGroup::new("mark").required(true).args(["own", "paid"]))]
pub struct Args {
    #[command(flatten)]
    act: SetPerson,
    /// Own hours, like the owner's: they count in prices, never in stock
    #[arg(long)]
    own: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.run(context)
    }
}

impl Verb for SetPerson {
    fn show(&self, answer: Person, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.table(&table(std::slice::from_ref(&answer)));
        context.ui.status(format!(
            "Hours of {} are {}.",
            answer.person,
            mark(answer.paid)
        ));
        Ok(())
    }
}
