//! `ellwand quote show`.

use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Run};
use ellwand_contract::quotations::GetQuotation;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote show Q1
  ellwand quote show Q1 --version 1 --inside")]
pub struct Args {
    #[command(flatten)]
    act: GetQuotation,
    /// Show the workshop's sheet too: costs, floor, profit, what an hour earns
    #[arg(long)]
    inside: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let Some(answer) = context.answer(&self.act)? else {
            return Ok(());
        };
        if self.inside && answer.inside.is_none() {
            let hidden = "the workshop's sheet is only for those who may see pay rates";
            context.ui.warning(hidden);
        }
        quotation::show(context, &answer, self.inside)?;
        if !answer.changes.is_empty() {
            context.ui.blank();
            quotation::changes(context.ui, &answer);
        }
        Ok(())
    }
}
