//! `ellwand buy show`.

use super::screen;
use crate::{command_error::CommandError, context::Context};
use ellwand_contract::purchases::GetPurchase;
use ellwand_domain::code::PurchaseCode;

/// Show a purchase with its landed costs
#[derive(Debug, clap::Args)]
#[command(after_help = "Example:
  ellwand buy show P8")]
pub struct Args {
    /// Which
    #[arg(value_name = "CODE")]
    purchase: PurchaseCode,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let answer = context.call(&GetPurchase {
        purchase: args.purchase,
    })?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    screen::purchase(context.ui, shown, &answer);
    Ok(())
}
