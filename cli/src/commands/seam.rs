//! `ellwand seam`: the thread of one seam, without a garment; no book is needed.

use crate::{command_error::CommandError, context::Context, pairs, ui::seams, verb::Run};
use ellwand_contract::seams::SeamInput;

const HELP: &str = "\
Keys:
  stitch     a number of ISO 4915, a hand stitch or a counted item, as below
  name       side seam, hem …                     count       how many [default: 1]
  length     of one seam                          detail      detail it belongs to
  per-cm     stitches in a centimetre: 4          step        or the length of one stitch
  thickness  of all layers, pressed flat          width       of the seam, or gauge of the needles
  sample, sample-needle, sample-under             a length of it, and the thread pulled out
  each       thread of one by your own figure, ends included
  needle, under  roles of the threads [default: thread, and the same]
  needle-share   share of the needle thread, if it is not known: 30%

Machine stitches (ISO 4915) with a ratio: 101 301 401 406 503 504 512 516 602 605
  with a formula of per-cm and thickness: 101 301 401; of width, too: 406 504 514 516 602 605
  103 and others of the standard: by a sample only. 209 is a running stitch.

Hand stitches, with step and:
  running, back, half-back   thickness            slip   bite, the dip into each fold
  whip   thickness at the edge, bite              fell   thickness of the fold, bite
  pad    across, bite
  blanket (purl)   bite, knot: two diameters of the thread, thickness where the edge is thick
  catch (herringbone), by-hand (any other): by a sample only

Counted items, with count and:
  buttonhole        length, width over both rows, step, thickness
  hand-buttonhole   length, step, bite, knot, thickness where the edge is thick
  bar-tack          length, width, thickness, stitches
  button            width between two holes, thickness, stitches (passes), shank

Examples:
  ellwand seam 'length=220cm,stitch=301'
  ellwand seam 'length=62cm,count=2,stitch=301,per-cm=4,thickness=0.8mm'
  ellwand seam \\\n    'length=1.07m,stitch=401,sample=3cm,sample-needle=9cm,sample-under=8cm'
  ellwand seam \\\n    'stitch=bar-tack,count=5,length=8mm,width=2mm,thickness=1.5mm,stitches=28'";

/// Work out the thread of one seam, without a garment
///
/// Uses the first of these that is given: a sample that was unpicked (measured), a figure of your own, the geometric formula
/// of the stitch, and the published ratio, which holds for about 7 stitches/cm and thin cloth (all estimated). Without any
/// of them the seam is refused, never guessed.
///
/// To measure it: sew 10 cm through all layers as in the garment, mark 3 cm in the middle, cut there, and pull the threads
/// out. Lay each straight without stretching it and read its length.
///
/// Thickness is that of all layers together at the stitch line: fold the cloth as it will lie, press it under a ruler and read
/// the gap, or divide the height of a stack. Count stitches over 5 cm.
///
/// This is arithmetic alone and needs no book. If there is one, lengths are shown in its units.
///
/// Each thread has a tail at each start and finish (25 mm, 20 to 30 mm when cut by hand), and 15 % are added for waste (10 to
/// 20 % are published); a garment's plan can change both with --seam-ends and --seam-waste.
#[derive(Debug, clap::Args)]
#[command(after_help = HELP)]
pub struct Args {
    /// The seam, as key=value pairs
    #[arg(value_name = "PAIRS", value_parser = pairs::parse_args::<SeamInput>)]
    seam: SeamInput,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown_without_book();
        let answer = self.seam.estimate(shown.units())?;
        if !context.json(&answer)? {
            seams::show(context.ui, shown, &answer);
        }
        Ok(())
    }
}
