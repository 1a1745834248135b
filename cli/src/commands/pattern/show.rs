//! `ellwand pattern show`: the parts of a file, as a tape measure finds them.

use crate::{
    command_error::CommandError,
    context::Context,
    file,
    ui::{Shown, Table},
    verb::Run,
};
use ellwand_contract::Metres;
use ellwand_domain::{quantity::Micrometres, setting::Grain};
use ellwand_pattern::{Drawn, DrawnPart, EXAMPLE, Known, Unit};
use serde::Serialize;
use std::path::PathBuf;

/// Show the parts of a pattern file: how long, how wide, how often
///
/// Reads a drawing in the layers of ASTM D6673 (DXF: a block for each part, its boundary on layer 1, fold on 6, grain on 7), a
/// plain drawing (SVG: each named shape is a part, its grain up the page), and corners read off paper (TOML; --example prints a
/// file to begin with). Texts of a part such as `Count: 2`, `Grain: crosswise` or `Need: lining` are read with it. Outlines are
/// taken as they are cut: seam allowance is neither added nor taken off.
///
/// Measure one part before you rely on a file; --known scales what was traced from a scan or a photograph. No book is needed.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand pattern show waistcoat.dxf
  ellwand pattern show traced.svg --known 'front=74cm x 31cm'
  ellwand pattern show coat.dxf --unit mm --as-parts shell
  ellwand pattern show --example > waistcoat.toml")]
pub struct Args {
    /// The file
    #[arg(value_name = "FILE", required_unless_present = "example")]
    file: Option<PathBuf>,
    /// Unit it is drawn in, where the file does not say: mm, cm or in
    #[arg(long, value_name = "UNIT")]
    unit: Option<Unit>,
    /// A part that you measured, along its grain and across it: all are scaled by it
    #[arg(long, value_name = "PART=SIZE", value_parser = known)]
    known: Option<Known>,
    /// Print each as a rectangle for --part of a plan, of this need
    #[arg(long, value_name = "NEED")]
    as_parts: Option<String>,
    /// Print a file of corners to begin with
    #[arg(long, exclusive = true)]
    example: bool,
}

/// What is shown.
#[derive(Debug, Serialize)]
struct Report {
    parts: Vec<Row>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Row {
    name: String,
    need: Option<String>,
    count: i64,
    /// True where every second one is turned over.
    pairs: bool,
    grain: Grain,
    length_m: Metres,
    width_m: Metres,
    corners: usize,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let Some(path) = &self.file else {
            context.ui.text(EXAMPLE);
            return Ok(());
        };
        let bytes = file::bytes(path)?;
        let refused = |error: ellwand_pattern::PatternError| {
            CommandError::usage(format!("{}: {error}", path.display()))
        };
        let mut drawn = ellwand_pattern::read(&bytes, self.unit).map_err(refused)?;
        if let Some(known) = &self.known {
            drawn = drawn.scaled(known).map_err(refused)?;
        }
        let report = report(&drawn);
        if context.json(&report)? {
            return Ok(());
        }
        match &self.as_parts {
            Some(need) => {
                for part in &drawn.parts {
                    context.ui.line(as_part(part, need));
                }
            }
            None => {
                let shown = context.shown_without_book();
                context.ui.table(&table(shown, &report));
            }
        }
        context.ui.notes(&report.notes);
        Ok(())
    }
}

fn report(drawn: &Drawn) -> Report {
    let row = |part: &DrawnPart| {
        let (length, width) = part.size();
        Row {
            name: part.name.clone(),
            need: part.need.clone(),
            count: part.count,
            pairs: part.pairs,
            grain: part.grain,
            length_m: Metres(length),
            width_m: Metres(width),
            corners: part.outline.corners().len(),
        }
    };
    Report {
        parts: drawn.parts.iter().map(row).collect(),
        notes: drawn.notes.clone(),
    }
}

fn table(shown: Shown, report: &Report) -> Table {
    let mut table = Table::headed("part | need | >count | grain | >length | >width | >corners");
    for row in &report.parts {
        let pairs = if row.pairs { " in pairs" } else { "" };
        table.row([
            row.name.clone(),
            row.need.clone().unwrap_or_default(),
            format!("{}{pairs}", row.count),
            row.grain.to_string(),
            shown.width(row.length_m),
            shown.width(row.width_m),
            row.corners.to_string(),
        ]);
    }
    table
}

/// `need=shell,name=front,count=2,length=663.2mm,width=301mm,grain=lengthwise`, up to the next tenth of a millimetre.
fn as_part(part: &DrawnPart, need: &str) -> String {
    let (length, width) = part.size();
    let mm = |side: Micrometres| {
        let tenths = side.get().saturating_add(99).div_euclid(100);
        format!("{}.{}mm", tenths.div_euclid(10), tenths.rem_euclid(10))
    };
    // A name may hold a comma; a quote inside it would end it.
    let name = part.name.replace('"', "'");
    let name = match name.contains([',', '=']) {
        true => format!("\"{name}\""),
        false => name,
    };
    format!(
        "need={need},name={name},count={},length={},width={},grain={}",
        part.count,
        mm(length),
        mm(width),
        part.grain
    )
}

/// Reads `front=74cm x 31cm`.
fn known(text: &str) -> Result<Known, String> {
    let wrong = || format!("\"{text}\" is no measured part; write it as 'front=74cm x 31cm'");
    let (part, size) = text.split_once('=').ok_or_else(wrong)?;
    let (length, width) = size.split_once(['x', '×']).ok_or_else(wrong)?;
    let side = |text: &str| {
        text.trim()
            .parse::<Micrometres>()
            .map_err(|error| error.to_string())
    };
    Ok(Known {
        part: part.trim().to_owned(),
        length: side(length)?,
        width: side(width)?,
    })
}
