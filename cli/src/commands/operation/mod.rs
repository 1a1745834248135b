//! `ellwand operation`: the operations that the workshop does often.

mod forget;
mod list;
mod set;

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Table, left, right, time::minutes},
};
use clap::Subcommand;
use ellwand_contract::operations::UsualOperation;

/// List, set or forget usual operations with their typical time
///
/// An estimate takes the typical time where no past garment has the operation. Garments keep what they have.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand operation list
  ellwand operation set hem --minutes 45m --kind hand
  ellwand operation forget hem")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    /// List all usual operations by name
    #[command(after_help = "Example:\n  ellwand operation list")]
    List,
    Set(set::Args),
    Forget(forget::Args),
}

/// Runs it.
///
/// # Errors
/// As the call.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    match args.verb {
        Verb::List => list::run(context),
        Verb::Set(args) => set::run(args, context),
        Verb::Forget(args) => forget::run(args, context),
    }
}

fn table(operations: &[UsualOperation]) -> Table {
    let mut table = Table::new([
        left("operation"),
        left("kind"),
        right("for one garment"),
        left(""),
    ]);
    for operation in operations {
        table.row([
            operation.name.clone(),
            operation.kind.to_string(),
            minutes(operation.minutes),
            if operation.billable {
                String::new()
            } else {
                "not billable".to_owned()
            },
        ]);
    }
    table
}
