//! `ellwand customer edit`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left},
};
use ellwand_contract::parties::EditCustomer;
use ellwand_domain::code::CustomerCode;

/// Change a customer's name or note; what is not given stays
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand customer edit C1 --note 'chest 96 cm'")]
pub struct Args {
    /// Which
    #[arg(value_name = "CODE")]
    customer: CustomerCode,
    /// New name
    #[arg(long, value_name = "TEXT", required_unless_present = "note")]
    name: Option<String>,
    /// Measures, address, anything
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = EditCustomer {
        id: context.new_id(),
        customer: args.customer,
        name: args.name,
        note: args.note,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let mut table = Table::new([left("code"), left("name"), left("note")]);
    table.row([answer.customer.to_string(), answer.name, answer.note]);
    context.ui.table(&table);
    context.ui.status(format!("Changed {}.", answer.customer));
    Ok(())
}
