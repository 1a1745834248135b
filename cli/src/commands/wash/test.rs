//! `ellwand wash test`.

use super::readings::{self, Readings};
use crate::{
    command_error::CommandError,
    commands::lot::show::wash_test,
    context::Context,
    typed,
    ui::{piece, promise},
    verb::Run,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    lots::LotChanged,
    wash::{SwatchInput, TestWash},
};
use ellwand_domain::{
    code::{LotCode, PieceCode},
    quantity::Micrometres,
    shrinkage::Preparation,
};

/// Record the readings of a swatch that was washed or steamed
///
/// Give up to three pairs of marks in each direction, before=after, separated by commas, and one list per cycle:
/// before=after the first=after the second. The change is shown to 0.1 %, as in ISO 5077; the exact ratio is used.
///
/// No cloth is used unless --swatch is given: then its length comes off the piece, and its value stays there. The strip
/// beside it becomes a piece if the workshop's offcut rule keeps it, with its share of the value.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand wash test L1 --length 350mm,350mm,350mm=334mm,335mm,333mm \\\n    --width 350mm,350mm,350mm=345mm,345mm,345mm
  ellwand wash test L1 --length 350mm=340mm=336mm=335mm \\\n    --note 'three cycles at 40, tumble dried'
  ellwand wash test L2 --preparation steamed --length 35cm=34.3cm \\\n    --swatch 50cmx50cm --from L2.1
  ellwand wash test L2 --length 35cm=34.3cm \\\n    --swatch 40cmx40cm --from L2.1 --corner")]
pub struct Args {
    /// Lot code, such as L1
    #[arg(value_name = "LOT")]
    lot: LotCode,
    /// Marks lengthwise, before=after: 350mm,350mm=334mm,335mm
    #[arg(long, value_name = "READINGS", value_parser = readings::parse)]
    length: Readings,
    /// Marks crosswise, before=after; leave out if not tested
    #[arg(long, value_name = "READINGS", value_parser = readings::parse)]
    width: Option<Readings>,
    /// Preparation: washed or steamed
    #[arg(long, value_name = "WHAT", default_value = "washed")]
    preparation: Preparation,
    /// Swatch cut for it, length x width: 50cmx50cm
    #[arg(long, value_name = "LENGTHxWIDTH", value_parser = swatch, requires = "from")]
    swatch: Option<(Typed<Micrometres>, Typed<Micrometres>)>,
    /// Piece that the swatch was cut from: L2.1
    #[arg(long, value_name = "PIECE", requires = "swatch")]
    from: Option<PieceCode>,
    /// Only a corner was cut: the rest of the strip is kept as a piece of its own, however small
    #[arg(long, requires = "swatch")]
    corner: bool,
    /// How it was done: cycle, temperature, drying, by whom
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    /// Confirm growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise
    #[arg(long)]
    really: bool,
    /// Business date: 2026-11-02 [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

fn swatch(text: &str) -> Result<(Typed<Micrometres>, Typed<Micrometres>), String> {
    let (length, width) = typed::by_times(text)
        .ok_or_else(|| format!("\"{text}\" is not length x width, for example 50cmx50cm"))?;
    let read = |side: &str| {
        side.parse()
            .map_err(|error: ellwand_domain::quantity::QuantityError| error.to_string())
    };
    Ok((read(length)?, read(width)?))
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let swatch = self.swatch.zip(self.from);
        let swatch = swatch.map(|((length, width), piece)| SwatchInput {
            piece,
            length,
            width,
            corner: self.corner,
        });
        let (width_before, width_after) = self
            .width
            .map(|width| (width.before, width.after))
            .unwrap_or_default();
        let act = TestWash {
            id: context.new_id(),
            lot: self.lot,
            preparation: self.preparation,
            length_before: self.length.before,
            length_after: self.length.after,
            width_before,
            width_after,
            swatch,
            note: self.note,
            really: self.really,
            date: self.date,
        };
        match context.answer(&act)? {
            Some(answer) => show(context, &answer, self.from),
            None => Ok(()),
        }
    }
}

fn show(
    context: &mut Context<'_, '_>,
    answer: &LotChanged,
    from: Option<PieceCode>,
) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let lot = &answer.lot;
    context.ui.heading(format!("{} {}", lot.lot, lot.name));
    if let Some(test) = lot.wash_tests.first() {
        wash_test(context.ui, shown, test, false);
    }
    let pieces: Vec<_> = lot
        .pieces
        .iter()
        .filter(|piece| Some(piece.piece) == from)
        .collect();
    if !pieces.is_empty() {
        context.ui.blank();
        context.ui.table(&piece::table(shown, &pieces));
    }
    promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
    context.ui.notes(&answer.notes);
    context.ui.status(format!(
        "Recorded the wash test of {} ({}).",
        lot.lot, answer.booking
    ));
    Ok(())
}
