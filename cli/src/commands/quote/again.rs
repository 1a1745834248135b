//! `ellwand quote again`.

use super::{offer::Offer, options::Options};
use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Run};
use ellwand_contract::quotations::{PriceInput, Requote};
use ellwand_domain::code::QuotationCode;

/// Make a new version of an open quotation, at today's figures
///
/// What is not said stays as it was asked, options too; anything said of the price, or any option, says it anew as a whole. The
/// version before can no longer be accepted. What changed is shown line by line. What is promised with the quotation is held
/// until the new last day.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote again Q1
  ellwand quote again Q1 --no-options
  ellwand quote again Q1 --margin 30% --valid-until 2026-12-31")]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    #[command(flatten)]
    price: PriceInput,
    #[command(flatten)]
    options: Options,
    /// The plan alone, without the options of the version before
    #[arg(long, conflicts_with_all = ["option", "options"])]
    no_options: bool,
    #[command(flatten)]
    offer: Offer,
    /// Promise the best pieces to every need that is still open, until its last day
    #[arg(long)]
    reserve: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let stage = self.offer.stages()?;
        let said = self.options.read()?;
        let anew = self.no_options || !said.options.is_empty();
        let act = Requote {
            id: context.new_id(),
            quotation: self.quotation,
            price: Some(self.price).filter(|price| *price != PriceInput::default()),
            stage: Some(stage).filter(|stage| !stage.is_empty()),
            date: self.offer.date,
            valid_until: self.offer.valid_until,
            terms: self.offer.terms,
            options: anew.then(|| said.options.clone()),
            plan_is: said.plan_is.clone(),
            reserve: self.reserve,
        };
        let answer = context.call(&act).map_err(|error| said.locate(error))?;
        if context.json(&answer)? {
            return Ok(());
        }
        quotation::show(context, &answer, true)?;
        context.ui.blank();
        quotation::changes(context.ui, &answer);
        let made = format!("Made version {} of {}", answer.version, answer.quotation);
        match answer.sheet.to_be_priced.as_slice() {
            missing if answer.options.is_empty() && !missing.is_empty() => {
                context.ui.status(format!(
                    "{made}, no offer yet; not priced: {}.",
                    missing.join(", ")
                ));
            }
            _ => context.ui.status(format!("{made}.")),
        }
        Ok(())
    }
}
