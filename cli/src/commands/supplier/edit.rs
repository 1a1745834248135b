//! `ellwand supplier edit`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left},
};
use ellwand_contract::parties::EditSupplier;
use ellwand_domain::code::SupplierCode;

/// Change a supplier's name or note; what is not given stays
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand supplier edit S1 --note 'closed on Mondays'")]
pub struct Args {
    /// Which
    #[arg(value_name = "CODE")]
    supplier: SupplierCode,
    /// New name
    #[arg(long, value_name = "TEXT", required_unless_present = "note")]
    name: Option<String>,
    /// Address, terms, anything
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let act = EditSupplier {
        id: context.new_id(),
        supplier: args.supplier,
        name: args.name,
        note: args.note,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let mut table = Table::new([left("code"), left("name"), left("note")]);
    table.row([answer.supplier.to_string(), answer.name, answer.note]);
    context.ui.table(&table);
    context.ui.status(format!("Changed {}.", answer.supplier));
    Ok(())
}
