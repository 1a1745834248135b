//! `ellwand lot stiffness`: how stiff a lot is along each grain.

mod screen;

use crate::{
    command_error::CommandError,
    context::Context,
    file::write_new,
    ui::promise,
    verb::{Run, Verb},
};
use ellwand_contract::stiffness::{GetStiffness, Stiffness, StiffnessChanged, TestStiffness};
use ellwand_domain::code::LotCode;
use std::path::{Path, PathBuf};

/// Record how stiff a lot is along each grain, or show it
///
/// Without readings it shows what is known: every grain with its formula, the directions between, and what turning a part
/// would change. It never assumes which grain is the stiff one.
///
/// To test it at home:
///
/// Step 1: Cut strips of 25 mm x 200 mm, four along each grain that matters, no two with the same threads, clear of
/// selvedges and creases. Label the face of each. Let them lie flat overnight (common practice).
///
/// Step 2: Cut a card as a triangle with a right angle, 100 mm along the bottom and 88.5 mm high: its long side falls at
/// 41.5 degrees. Stand it at the edge of a table so that the slope starts at the edge and falls away from it.
///
/// Step 3: Weigh all strips together for the mass per area: eight of them are 0.04 m2, so 4.8 g is 120gsm.
///
/// Step 4: Lay a strip on the table along the slope, its end at the edge, and a ruler on it, end to end. Push both slowly over
/// the edge until the tip of the strip bends down to the slope. Read how far the ruler is over the edge: the overhang.
/// If a strip curls or twists, read at the middle of its tip (common practice).
///
/// Step 5: Turn the strip over and read it face down as well. Put a colon between the two sides of a strip and commas
/// between strips: 62mm:60mm,61mm:61mm.
///
/// The bending length is half the mean overhang, and the rigidity w·g0·c³ follows with the mass per area. A datasheet's
/// figure is given with its unit: 15.7uNm and 160mgcm are physical, 1.6mNcm is taken as ISO 9073-7 prints it, 22.7uJ/m as
/// ASTM D1388 does with its SI constant, 0.16gfcm2/cm as KES does; choose another with --formula. With --formula
/// bending-length a length is the bending length itself.
///
/// An interlining is cut by the parts of its shell: inside the seams, less the seam allowance all round (common practice for
/// canvas), or with it, caught in the seams; ellwand garment plan --help has the keys of --part. With the grain along each
/// part, candidates, reserve and cost show how stiff it will be and what turning it would change. An untested bias is
/// computed from both grains; measure a strip if it matters.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lot stiffness L7
  ellwand lot stiffness L7 --lengthwise 62mm,60mm,61mm,63mm \\\n    --crosswise 41mm,42mm,40mm,41mm --mass 120gsm
  ellwand lot stiffness L7 --bias 52mm:50mm,51mm:51mm --strip 150mmx25mm \\\n    --note 'raw, not fused'
  ellwand lot stiffness L7 --lengthwise 22.7uJ/m --crosswise 9uJ/m \\\n    --note 'datasheet, ASTM D1388'
  ellwand lot stiffness L7 --svg stiffness.svg --beside L9")]
pub struct Args {
    #[command(flatten)]
    act: TestStiffness,
    /// Draw the stiffness by direction to this file; an existing file is replaced only with --yes
    #[arg(long, value_name = "FILE", conflicts_with = "readings")]
    svg: Option<PathBuf>,
    /// Add another lot to the picture: L9
    #[arg(long, value_name = "LOT", requires = "svg")]
    beside: Option<LotCode>,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let act = &self.act;
        if [&act.lengthwise, &act.crosswise, &act.bias]
            .into_iter()
            .all(Vec::is_empty)
        {
            return look(&self, context);
        }
        self.act.run(context)
    }
}

impl Verb for TestStiffness {
    fn show(
        &self,
        answer: StiffnessChanged,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        let shown = context.shown()?;
        screen::show(context.ui, shown, &answer.stiffness);
        promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
        context.ui.notes(&answer.notes);
        let (lot, booking) = (self.lot, answer.booking);
        context
            .ui
            .status(format!("Recorded the stiffness of {lot} ({booking})."));
        Ok(())
    }
}

/// Shows what is known, and draws it first if requested.
fn look(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetStiffness { lot: args.act.lot })?;
    let drawn = match &args.svg {
        Some(path) => Some(draw(&answer, args.beside, path, context)?),
        None => None,
    };
    if !context.json(&answer)? {
        let shown = context.shown()?;
        screen::show(context.ui, shown, &answer);
    }
    if let Some(drawn) = drawn {
        context.ui.status(drawn);
    }
    Ok(())
}

/// Writes the picture and reports what it shows.
fn draw(
    answer: &Stiffness,
    beside: Option<LotCode>,
    path: &Path,
    context: &mut Context<'_, '_>,
) -> Result<String, CommandError> {
    let mut lots = vec![answer.clone()];
    if let Some(lot) = beside.filter(|lot| *lot != answer.lot) {
        lots.push(context.call(&GetStiffness { lot })?);
    }
    let picture = ellwand_picture::stiffness::draw(&lots)?;
    write_new(path, picture.as_bytes(), context.is_yes())?;
    let codes: Vec<String> = lots.iter().map(|lot| lot.lot.to_string()).collect();
    Ok(format!(
        "Drew {} to {}.",
        codes.join(" and "),
        path.display()
    ))
}
