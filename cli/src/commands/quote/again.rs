//! `ellwand quote again`.

use super::options::Options;
use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Run};
use ellwand_contract::quotations::Requote;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote again Q1
  ellwand quote again Q1 --no-options
  ellwand quote again Q1 --markup 45% --try
  ellwand quote again Q1 --margin 30% --valid-until 2026-12-31")]
pub struct Args {
    #[command(flatten)]
    act: Requote,
    #[command(flatten)]
    options: Options,
    /// Quote the plan alone, without the options of the version before
    #[arg(long, conflicts_with_all = ["option", "options"])]
    no_options: bool,
    /// Show how the price is made up, as quote show --inside does
    #[arg(long)]
    inside: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let parsed = self.options.parse()?;
        let anew = self.no_options || !parsed.options.is_empty();
        let act = Requote {
            id: context.new_id(),
            options: anew.then(|| parsed.options.clone()),
            plan_is: parsed.plan_is.clone(),
            ..self.act
        };
        let answer = context.call(&act).map_err(|error| parsed.locate(error))?;
        if context.json(&answer)? {
            return Ok(());
        }
        quotation::show_made(context, &answer, self.inside)?;
        context.ui.blank();
        quotation::changes(context.ui, &answer);
        let made = match answer.is_trial {
            true => "Only tried, nothing is booked".to_owned(),
            false => format!("Made version {} of {}", answer.version, answer.quotation),
        };
        match answer.sheet.to_be_priced.as_slice() {
            missing if answer.options.is_empty() && !missing.is_empty() => {
                context.ui.status(format!(
                    "{made}, not an offer yet; not priced: {}.",
                    missing.join(", ")
                ));
            }
            _ => context.ui.status(format!("{made}.")),
        }
        if answer.is_trial {
            let hint = "the same without --try makes the version";
            context.ui.hint(hint);
        }
        Ok(())
    }
}
