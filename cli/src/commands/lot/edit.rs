//! `ellwand lot edit`.

use super::show;
use crate::{command_error::CommandError, context::Context, sheet::SheetFlags, ui::promise};
use ellwand_contract::{lots::EditLot, sheets::SheetInput};
use ellwand_domain::code::LotCode;

/// Change what a lot's sheet says; promises that rest on it are looked at again
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
    /// Growth beyond 20 % is meant
    #[arg(long)]
    really: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let sheet = args.sheet.sheet()?;
    if sheet == SheetInput::default() && args.dye_lot.is_none() && args.place.is_none() {
        return Err(CommandError::usage_hint("nothing was named to change", "see `ellwand lot edit --help`"));
    }
    let act = EditLot {
        id: context.new_id(),
        lot: args.lot,
        sheet,
        dye_lot: args.dye_lot,
        place: args.place,
        really: args.really,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    show::lot(context.ui, shown, &answer.lot);
    promise::aftermath(context.ui, shown, &answer.changed, &answer.broken);
    context.ui.notes(&answer.notes);
    context.ui.status(format!("Changed {} ({}).", answer.lot.lot, answer.booking));
    Ok(())
}
