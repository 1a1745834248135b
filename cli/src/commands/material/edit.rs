//! `ellwand material edit`.

use crate::{command_error::CommandError, context::Context, sheet::SheetFlags, ui};
use ellwand_contract::sheets::EditMaterial;
use ellwand_domain::code::MaterialCode;

/// Change a material's name, or the sheet that its next lots start from
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Lots on the shelf keep their own sheet; change it with `ellwand lot edit`."
)]
pub struct Args {
    /// Which
    #[arg(value_name = "CODE")]
    material: MaterialCode,
    /// New name
    #[arg(long, value_name = "TEXT")]
    name: Option<String>,
    #[command(flatten)]
    sheet: SheetFlags,
    /// Confirm a shrinkage with growth above 20 %, or a loss above 20 % lengthwise or 10 % crosswise
    #[arg(long)]
    really: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let sheet = args.sheet.sheet()?;
    if args.name.is_none() && sheet == ellwand_contract::sheets::SheetInput::default() {
        return Err(CommandError::usage_hint(
            "nothing was named to change",
            "see `ellwand material edit --help`",
        ));
    }
    let act = EditMaterial {
        id: context.new_id(),
        material: args.material,
        name: args.name,
        sheet,
        really: args.really,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    context.ui.heading(format!(
        "{} {} ({})",
        answer.material, answer.name, answer.kind
    ));
    context.ui.table(&ui::sheet::table(shown, &answer.sheet));
    context.ui.status(format!("Changed {}.", answer.material));
    Ok(())
}
