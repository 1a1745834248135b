//! `ellwand customer erase`.

use crate::{command_error::CommandError, context::Context};
use ellwand_contract::parties::EraseCustomer;
use ellwand_domain::code::CustomerCode;

/// Take a customer's name and note out of the book for good
///
/// What was made, agreed and paid stays and names the customer by the code alone. It is refused while something is being
/// made for them, cloth of theirs is here, or a quotation is not settled. Names that were typed elsewhere, as in the name of a
/// garment, stay, and so do backups. What must be kept, and for how long, local law decides. `undo` does not bring it back.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand customer erase C2")]
pub struct Args {
    /// Which
    #[arg(value_name = "CODE")]
    customer: CustomerCode,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    context.confirm(&format!(
        "Erase the name and note of {} for good?",
        args.customer
    ))?;
    let act = EraseCustomer {
        id: context.new_id(),
        customer: args.customer,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    context.ui.status(format!(
        "Erased the name of {}; the book knows it by its code.",
        answer.customer
    ));
    context.ui.notes(&answer.notes);
    Ok(())
}
