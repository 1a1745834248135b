//! `ellwand quote make`.

use super::options::{self, Options};
use crate::{
    command_error::CommandError,
    context::Context,
    ui::{offers, quotation},
    verb::Run,
};
use ellwand_contract::quotations::MakeQuotation;

const EXAMPLES: &str = "\
Examples:
  ellwand quote make G5 --margin 35%
  ellwand quote make G5 --markup 40% --material-markup 15% --round-up x.95
  ellwand quote make G5 --price 450.00 --discount 10%
  ellwand quote make G5 --hourly 30.00 --stage 'deposit=40% of gross' --stage 'at delivery'
  ellwand quote make G5 --from actual --margin 35% --tax standard
  ellwand quote make G5 --margin 35% --plan-is 'machine hem' --option 'hand hem' \\
    --option-without 'hand hem=machine hem' \\
    --option-operation 'option=hand hem,name=hand hem,kind=hand,planned=2h'";

/// Make a quotation for a garment
///
/// A commission is priced from its plan, a garment that was made for stock from what it did cost (--from actual). What has no
/// price is listed, never taken for nothing: until all of it is priced, and it is said how the price is made, it is no offer and nothing is
/// to be paid. With --reserve the best pieces are promised to every open need in the same step, or
/// nothing happens at all: they are held until the quotation's last day, and for good once it is accepted.
///
/// After an acceptance the customer may want it otherwise: change the plan, then --supplement-to prices the change alone, at today's
/// cost for what is new or more, at what was agreed for what is less or gone, by the same rule as before unless another is said. Materials and work are each priced
/// by their own rule and taxed at their own rate; what goes off goes off at the rate that it was agreed at.
#[derive(Debug, clap::Args)]
#[command(after_help = format!("{}\n\n{EXAMPLES}", options::HELP))]
pub struct Args {
    #[command(flatten)]
    act: MakeQuotation,
    #[command(flatten)]
    options: Options,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let said = self.options.read()?;
        let act = MakeQuotation {
            id: context.new_id(),
            options: said.options.clone(),
            plan_is: said.plan_is.clone(),
            ..self.act
        };
        let answer = context.call(&act).map_err(|error| said.locate(error))?;
        if context.json(&answer)? {
            return Ok(());
        }
        quotation::show(context, &answer, true)?;
        let (code, gross) = (answer.quotation, &answer.sheet.gross);
        let missing = &answer.sheet.to_be_priced;
        match answer.options.is_empty() {
            true if !missing.is_empty() => {
                context.ui.status(format!(
                    "Made {code}, no offer yet; not priced: {}.",
                    missing.join(", ")
                ));
                let hint = format!(
                    "price it with ellwand quote again {code}, then it can be shown and accepted"
                );
                context.ui.hint(hint);
                return Ok(());
            }
            true => context.ui.status(format!(
                "Made {code}: {gross} {} to be paid.",
                answer.sheet.currency
            )),
            false => {
                let columns = offers::columns(&answer).into_iter();
                let told: Vec<_> = columns
                    .map(|(name, sheet)| format!("{name} {}", offers::to_be_paid(sheet)))
                    .collect();
                let (told, currency) = (told.join(", "), &answer.sheet.currency);
                context
                    .ui
                    .status(format!("Made {code}; to be paid in {currency}: {told}."));
            }
        }
        context.ui.hint(format!(
            "for the customer: ellwand quote print {code} --pdf {code}.pdf"
        ));
        Ok(())
    }
}
