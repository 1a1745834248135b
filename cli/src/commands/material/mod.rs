//! `ellwand material`: what things are, with the sheet that new lots start from.

mod edit;
mod list;

use crate::verb::runs;
use clap::Subcommand;
use ellwand_contract::sheets::{EditMaterial, ListMaterials};

/// List or edit materials; they appear with their first purchase
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand material list --kind cloth
  ellwand material edit M3 --mass 270gsm --fibres \"wool 80% + nylon 20%\"")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    #[command(after_help = "Example:\n  ellwand material list --kind cloth")]
    List(ListMaterials),
    #[command(
        after_help = "Lots on the shelf keep their own sheet; change it with `ellwand lot edit`."
    )]
    Edit(Box<EditMaterial>),
}

runs!(Args, Verb: List, Edit);
