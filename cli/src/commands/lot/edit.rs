//! `ellwand lot edit`.

use super::show;
use crate::{command_error::CommandError, context::Context, sheet::SheetFlags, ui::promise};
use ellwand_contract::{lots::EditLot, sheets::SheetInput};
use ellwand_domain::code::{BookingCode, LotCode};

/// Change what a lot's sheet says; promises that rest on it are looked at again
///
/// What was worked out from a figure is worked out anew: the widths of its pieces but those that were measured, rigidities from the
/// mass per area, lengths by weight of pieces that were not cut since.
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand lot edit L1 --shrinkage 5%/2% --mass 270gsm")]
pub struct Args {
    /// Which
    #[arg(value_name = "LOT")]
    lot: LotCode,
    #[command(flatten)]
    sheet: SheetFlags,
    /// Dye lot or roll number
    #[arg(long, value_name = "TEXT")]
    dye_lot: Option<String>,
    /// Where its pieces lie
    #[arg(long, value_name = "PLACE")]
    place: Option<String>,
    /// Wash test that counts from now on, by its number; 'latest': the latest again
    #[arg(long, value_name = "NUMBER", value_parser = wash_test)]
    wash_test: Option<i64>,
    /// Confirm a shrinkage with growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise
    #[arg(long)]
    really: bool,
    /// Only if no later booking than this one has touched it: the "version" of `lot show --json`
    #[arg(long, value_name = "BOOKING")]
    if_version: Option<BookingCode>,
}

fn wash_test(text: &str) -> Result<i64, String> {
    if text == "latest" {
        return Ok(0);
    }
    let number = text.parse().ok().filter(|number| *number > 0);
    number.ok_or_else(|| "give the number of a test, such as 1, or 'latest'".to_owned())
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let sheet = args.sheet.sheet()?;
    let named = args.dye_lot.is_some() || args.place.is_some() || args.wash_test.is_some();
    if sheet == SheetInput::default() && !named {
        return Err(CommandError::usage_hint(
            "nothing was named to change",
            "see `ellwand lot edit --help`",
        ));
    }
    let act = EditLot {
        id: context.new_id(),
        lot: args.lot,
        sheet,
        dye_lot: args.dye_lot,
        place: args.place,
        wash_test: args.wash_test,
        really: args.really,
        if_version: args.if_version,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    show::lot(context.ui, shown, &answer.lot);
    promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
    context.ui.notes(&answer.notes);
    context
        .ui
        .status(format!("Changed {} ({}).", answer.lot.lot, answer.booking));
    Ok(())
}
