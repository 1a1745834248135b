//! `ellwand pattern`: what a pattern file holds.

mod show;

use crate::verb::runs;
use clap::Subcommand;

/// Show what a pattern file holds
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand pattern show waistcoat.dxf
  ellwand pattern show --example > waistcoat.toml")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Show(show::Args),
}

runs!(Args, Verb: Show);
