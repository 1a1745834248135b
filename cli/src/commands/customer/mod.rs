//! `ellwand customer`: customers appear by use; here they are listed, edited and erased.

mod edit;
mod erase;
mod list;
mod measure;
mod show;

use crate::{ui::Table, verb::runs};
use clap::Subcommand;
use ellwand_contract::{
    measures::{GetCustomer, MeasureCustomer},
    parties::{EditCustomer, ListCustomers},
};

/// List, show, measure, edit or erase customers; they appear with their first garment or cloth
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand customer list
  ellwand customer measure Ada chest=104cm,collar=41cm
  ellwand customer show C2
  ellwand customer edit C2 --note \"opens on Thursdays\"
  ellwand customer erase C2")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    #[command(after_help = "Example:\n  ellwand customer list")]
    List(ListCustomers),
    #[command(
        after_help = "Examples:\n  ellwand customer show Ada\n  ellwand customer show C1 --all"
    )]
    Show(GetCustomer),
    #[command(
        after_help = "Examples:\n  ellwand customer measure Ada chest=104cm,collar=41cm\n  ellwand customer measure C1 'waist to knee=58cm' --date yesterday"
    )]
    Measure(MeasureCustomer),
    #[command(after_help = "Example:\n  ellwand customer edit C1 --note 'by appointment'")]
    Edit(EditCustomer),
    Erase(erase::Args),
}

runs!(Args, Verb: List, Show, Measure, Edit, Erase);

/// Customers or suppliers: code, name, note.
pub(super) fn table(rows: impl IntoIterator<Item = [String; 3]>) -> Table {
    let mut table = Table::headed("code | name | note");
    for row in rows {
        table.row(row);
    }
    table
}
