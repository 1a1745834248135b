//! `ellwand wash`: a swatch was tested, or a piece was prepared.

mod done;
mod readings;
mod test;

use crate::verb::runs;
use clap::Subcommand;

/// Record a wash test of a swatch, or a piece that was washed or steamed
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand wash test L1 --length 350mm,350mm,350mm=334mm,335mm,333mm \\\n    --width 350mm=345mm
  ellwand wash done L1.1=3.80m L2.1=2.94m")]
pub struct Args {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Test(test::Args),
    Done(done::Args),
}

runs!(Args, Verb: Test, Done);
