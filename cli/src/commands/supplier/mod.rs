//! `ellwand supplier`: suppliers appear by use; here they are listed and edited.

mod edit;
mod list;

use crate::verb::runs;
use clap::Subcommand;
use ellwand_contract::parties::{EditSupplier, ListSuppliers};

/// List or edit suppliers; they appear with their first purchase
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand supplier list
  ellwand supplier edit S2 --note \"opens on Thursdays\"")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    #[command(after_help = "Example:\n  ellwand supplier list")]
    List(ListSuppliers),
    #[command(after_help = "Example:\n  ellwand supplier edit S1 --note 'closed on Mondays'")]
    Edit(EditSupplier),
}

runs!(Args, Verb: List, Edit);
