//! `ellwand operation`: the operations that the workshop does often.

mod forget;
mod list;
mod set;

use crate::{
    ui::{Table, time::minutes},
    verb::runs,
};
use clap::Subcommand;
use ellwand_contract::operations::{ForgetOperation, ListOperations, UsualOperation};

/// List, set or forget usual operations with their typical times
///
/// Estimates use the typical time where no past garment has the operation. Garments keep theirs.
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
    #[command(after_help = "Example:\n  ellwand operation list")]
    List(ListOperations),
    Set(set::Args),
    #[command(after_help = "Example:\n  ellwand operation forget hem")]
    Forget(ForgetOperation),
}

runs!(Args, Verb: List, Set, Forget);

fn table(operations: &[UsualOperation]) -> Table {
    let mut table = Table::headed("operation | kind | >for one garment |");
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
