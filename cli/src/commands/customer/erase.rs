//! `ellwand customer erase`.

use crate::{
    command_error::CommandError,
    context::Context,
    verb::{Run, Verb},
};
use ellwand_contract::{
    measures::GetCustomer,
    parties::{EraseCustomer, Erased},
};
use uuid::Uuid;

/// Erase a customer's name, note and measurements from the book for good
///
/// What was made, agreed and paid stays, under the customer's code alone. Refused while something is being made for them,
/// their cloth is here, or a quotation is not settled. Names typed elsewhere, such as in the name of a garment, stay, and so
/// do backups. Local law decides what must be kept, and for how long. Undo does not bring it back.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand customer erase C2\n  ellwand customer erase Ada")]
pub struct Args {
    /// The customer, by name or code: Ada, C4
    #[arg(value_name = "CUSTOMER")]
    customer: String,
}

impl Run for Args {
    /// Sent by the code, so that the request that is kept holds no name.
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.begin::<EraseCustomer>()?;
        let known = context.call(&GetCustomer {
            customer: self.customer,
            all: false,
        })?;
        let who = format!("{} ({})", known.name, known.customer);
        context.confirm(&format!("Erase the name and note of {who} for good?"))?;
        let (id, customer) = (Uuid::nil(), known.customer);
        EraseCustomer { id, customer }.run(context)
    }
}

impl Verb for EraseCustomer {
    fn show(&self, answer: Erased, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        context.ui.status(format!(
            "Erased the name of {}; the book keeps the code alone.",
            answer.customer
        ));
        context.ui.notes(&answer.notes);
        Ok(())
    }
}
