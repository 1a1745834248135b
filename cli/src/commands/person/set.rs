//! `ellwand person set`.

use super::{mark, table};
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::people::SetPerson;

/// Name a person, or say of one who is there whether their hours are own or paid
///
/// It counts for all their hours, those of the past with them.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand person set anna --paid
  ellwand person set 'Marte Holm' --own")]
#[command(group = clap::ArgGroup::new("mark").required(true))]
pub struct Args {
    /// Their name
    name: String,
    /// Own hours, as the owner's: they enter prices, never stock
    #[arg(long, group = "mark")]
    own: bool,
    /// Wages: they enter the stock value of garments
    #[arg(long, group = "mark")]
    paid: bool,
    /// Also where it changes the cost of garments that are finished
    #[arg(long)]
    really: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = SetPerson {
        id: context.new_id(),
        person: args.name,
        paid: args.paid,
        really: args.really,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    context.ui.table(&table(std::slice::from_ref(&answer)));
    context.ui.status(format!(
        "Hours of {} are {}.",
        answer.person,
        mark(answer.paid)
    ));
    Ok(())
}
