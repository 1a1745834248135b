//! `ellwand wash`: a swatch was tested, or a piece was prepared.

mod done;
mod readings;
mod test;

use crate::verb::runs;
use clap::Subcommand;
use ellwand_contract::wash::FinishWash;

/// Record a wash test of a swatch, or a piece that was washed or steamed
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand wash test L1 --length 350mm,350mm,350mm=334mm,335mm,333mm --width 350mm=345mm
  ellwand wash done L1.1 --length 3.80m --preparation washed")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Test(test::Args),
    #[command(after_help = "Examples:
  ellwand wash done L1.1 --length 3.80m --width 147cm
  ellwand wash done L2.1 --length 2.94m --preparation steamed")]
    Done(FinishWash),
}

runs!(Args, Verb: Test, Done);
