//! `ellwand lot stiffness`: how stiff a lot is along each grain.

mod picture;
mod readings;
mod screen;

use crate::{
    command_error::CommandError,
    context::Context,
    file::write_new,
    typed,
    ui::promise,
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    stiffness::{GetStiffness, Stiffness, StiffnessChanged, StripInput, TestStiffness},
};
use ellwand_domain::{
    certainty::Certainty,
    code::LotCode,
    quantity::{Micrometres, QuantityError},
    setting::StiffnessMethod,
};
use readings::Readings;
use std::path::{Path, PathBuf};
use uuid::Uuid;

/// Record how stiff a lot is along each grain, or show it
///
/// Without readings it shows what is known: every grain with the formula behind it, the directions between, and what
/// turning a part would change. Which grain is the stiff one is never assumed.
///
/// A test at home, step by step:
///
/// Step 1: Cut strips of 25 mm x 200 mm, four along each grain that matters, none of them with threads of another, clear of
/// selvedges and creases. Write on the face which is which. Let them lie flat over night (common practice).
///
/// Step 2: Cut a card as a triangle with a right angle, 100 mm along the bottom and 88.5 mm high: its long side falls at
/// 41.5 degrees. Stand it at the edge of a table so that the slope begins at the edge and falls away from it.
///
/// Step 3: Weigh all strips together for the mass per area: eight of them are 0.04 m2, so that 4.8 g make 120gsm.
///
/// Step 4: Lay a strip on the table along the slope, its end at the edge, and a ruler on it, end to end. Push both slowly over
/// the edge until the tip of the strip bends down to the slope. Read how far the ruler came over the edge: the overhang.
/// Curling or twisting strips are read in the middle of the tip (common practice).
///
/// Step 5: Turn the strip over and read it face down as well. Write the two sides of a strip with a colon between them, and
/// commas between strips: 62mm:60mm,61mm:61mm.
///
/// The bending length is half the mean overhang, and the rigidity w·g0·c³ follows with the mass per area. A datasheet's
/// figure goes in with its unit: 15.7uNm and 160mgcm are physical, 1.6mNcm is taken as ISO 9073-7 prints it, 22.7uJ/m as
/// ASTM D1388 does with its SI constant, 0.16gfcm2/cm as KES does; --formula says another. With --formula bending-length
/// a length is the bending length itself.
///
/// An interlining is cut by the parts of its shell: inside the seams, less the seam allowance all round (common practice for
/// canvas), or with it, to be caught in them; ellwand garment plan --help has the keys of --part. Each part says which grain
/// runs along it: candidates, reserve and cost then say how stiff it will be and what turning it would change. A bias that was
/// not tested is computed from both grains; measure a strip when it matters.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand lot stiffness L7
  ellwand lot stiffness L7 --lengthwise 62mm,60mm,61mm,63mm --crosswise 41mm,42mm,40mm,41mm --mass 120gsm
  ellwand lot stiffness L7 --bias 52mm:50mm,51mm:51mm --strip 150mmx25mm --note 'raw, not fused'
  ellwand lot stiffness L7 --lengthwise 22.7uJ/m --crosswise 9uJ/m --note 'datasheet, ASTM D1388'
  ellwand lot stiffness L7 --svg stiffness.svg --beside L9")]
#[command(group(clap::ArgGroup::new("readings").multiple(true).args(["lengthwise", "crosswise", "bias"])))]
pub struct Args {
    /// Which lot
    #[arg(value_name = "LOT")]
    lot: LotCode,
    /// Overhangs of strips along the warp, or one printed figure
    #[arg(long, value_name = "READINGS", value_parser = readings::parse, allow_hyphen_values = true)]
    lengthwise: Option<Readings>,
    /// Overhangs of strips along the weft, or one printed figure
    #[arg(long, value_name = "READINGS", value_parser = readings::parse, allow_hyphen_values = true)]
    crosswise: Option<Readings>,
    /// Overhangs of strips at 45 degrees, or one printed figure
    #[arg(long, value_name = "READINGS", value_parser = readings::parse, allow_hyphen_values = true)]
    bias: Option<Readings>,
    /// Formula behind the figures: half-overhang, bending-length, rigidity, iso-9073-7, astm-d1388 or kes; default by the
    /// unit
    #[arg(long, value_name = "WORD", requires = "readings")]
    formula: Option<StiffnessMethod>,
    /// Mass per area of the strips; default the lot's
    #[arg(
        long,
        value_name = "MASS",
        requires = "readings",
        allow_hyphen_values = true
    )]
    mass: Option<String>,
    /// Thickness of the strips
    #[arg(
        long,
        value_name = "LENGTH",
        requires = "readings",
        allow_hyphen_values = true
    )]
    thickness: Option<String>,
    /// Size of the strips, along the grain x across; default 200mmx25mm
    #[arg(long, value_name = "LENGTHxWIDTH", value_parser = strip, requires = "readings")]
    strip: Option<StripInput>,
    /// How well it is known: measured, stated, estimated or unknown; default measured for overhangs, else stated
    #[arg(long, value_name = "WORD", value_parser = typed::certainty, requires = "readings")]
    certainty: Option<Certainty>,
    /// How: raw or washed, fused or not, by whom, from which datasheet
    #[arg(long, value_name = "TEXT", requires = "readings")]
    note: Option<String>,
    /// Strips more than 20 % apart are meant
    #[arg(long, requires = "readings")]
    really: bool,
    /// Business date; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date, requires = "readings")]
    date: Option<NaiveDate>,
    /// Draw what is known by direction to this file; one that is there already is replaced with --yes only
    #[arg(long, value_name = "FILE", conflicts_with = "readings")]
    svg: Option<PathBuf>,
    /// Another lot in the same picture
    #[arg(long, value_name = "LOT", requires = "svg")]
    beside: Option<LotCode>,
}

fn strip(text: &str) -> Result<StripInput, String> {
    let (length, width) = typed::by_times(text)
        .ok_or_else(|| format!("\"{text}\" is not length x width, for example 200mmx25mm"))?;
    let read = |side: &str| -> Result<Typed<Micrometres>, String> {
        side.parse()
            .map_err(|error: QuantityError| error.to_string())
    };
    Ok(StripInput {
        length: read(length)?,
        width: read(width)?,
    })
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if self.lengthwise.is_none() && self.crosswise.is_none() && self.bias.is_none() {
            return look(&self, context);
        }
        request(self).run(context)
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

/// Shows what is known, and draws it first where that is asked for.
fn look(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetStiffness { lot: args.lot })?;
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

fn request(args: Args) -> TestStiffness {
    let strips =
        |readings: Option<Readings>| readings.map(|readings| readings.0).unwrap_or_default();
    TestStiffness {
        id: Uuid::nil(),
        lot: args.lot,
        lengthwise: strips(args.lengthwise),
        crosswise: strips(args.crosswise),
        bias: strips(args.bias),
        formula: args.formula,
        mass: args.mass,
        thickness: args.thickness,
        strip: args.strip,
        certainty: args.certainty,
        note: args.note,
        really: args.really,
        date: args.date,
    }
}

/// Writes the picture; says what it shows.
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
    let picture = picture::draw(&lots)?;
    write_new(path, picture.as_bytes(), context.is_yes())?;
    let codes: Vec<String> = lots.iter().map(|lot| lot.lot.to_string()).collect();
    Ok(format!(
        "Drew {} to {}.",
        codes.join(" and "),
        path.display()
    ))
}
