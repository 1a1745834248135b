//! `ellwand quote make`.

use super::{
    cloth,
    options::{self, Options},
};
use crate::{command_error::CommandError, context::Context, ui::quotation, verb::Run};
use ellwand_contract::{options::OptionCloth, quotations::MakeQuotation};

const EXAMPLES: &str = "\
Examples:
  ellwand quote make G5 --margin 35%
  ellwand quote make G5 --markup 40% --material-markup 15% --round-up x.95
  ellwand quote make G5 --price 450.00 --discount 10%
  ellwand quote make G5 --hourly 30.00 --stage 'deposit=40% of gross' \\\n    --stage 'at delivery'
  ellwand quote make G5 --with shell=L7 \\\n    --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%'
  ellwand quote make G5 --from actual --margin 35% --tax standard
  ellwand quote make G5 --margin 35% --plan-is 'machine hem' \\\n    --option 'hand hem' \\
    --option-without 'hand hem=machine hem' \\
    --option-operation 'option=hand hem,name=hand hem,kind=hand,planned=2h'";

/// Make a quotation for a garment
///
/// A commission is priced from its plan, a garment made for stock from its actual cost (--from actual). What has no price is
/// listed, never taken as zero: until everything is priced and the price has a rule, it is no offer and nothing is due. With
/// --reserve the best pieces are promised to every open need in the same step, or nothing happens at all: they are held until
/// the quotation's last day, and for good once it is accepted.
///
/// If the customer wants a change after accepting, change the plan; --supplement-to then prices the change alone: at today's
/// cost for what is new or more, as agreed for what is less or gone, by the same rule as before unless you give another.
/// Materials and work each have their own rule and tax rate; what is dropped comes off at the rate agreed for it.
#[derive(Debug, clap::Args)]
#[command(after_help = format!("{}\n\n{EXAMPLES}", options::HELP))]
pub struct Args {
    #[command(flatten)]
    act: MakeQuotation,
    #[command(flatten)]
    options: Options,
    /// Cloth to choose from, an option of its own: shell=L7, shell=navy wool; not bought yet: 'shell=64.00/m,width=150cm,shrinkage=3%/1%'
    ///
    /// Each is priced on that cloth, with its own width and shrinkage. Cloth that is not bought yet is washed and rounded like
    /// cloth on the shelf, and counts as an estimate; called=NAME names it for the customer.
    #[arg(long, value_name = "ROLE=CLOTH", value_parser = cloth::parse)]
    with: Vec<OptionCloth>,
    /// Show how the price is made up, as quote show --inside does
    #[arg(long)]
    inside: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let parsed = self.options.parse()?;
        let act = MakeQuotation {
            id: context.new_id(),
            options: parsed.options.clone(),
            plan_is: parsed.plan_is.clone(),
            with: self.with,
            ..self.act
        };
        let answer = context.call(&act).map_err(|error| parsed.locate(error))?;
        if context.json(&answer)? {
            return Ok(());
        }
        quotation::show_made(context, &answer, self.inside)?;
        let (code, gross) = (answer.quotation, &answer.sheet.gross);
        let missing = &answer.sheet.to_be_priced;
        match answer.options.is_empty() {
            true if !missing.is_empty() => {
                context.ui.status(format!(
                    "Made {code}, not an offer yet; not priced: {}.",
                    missing.join(", ")
                ));
                let hint = format!(
                    "price it with ellwand quote again {code}, then it can be printed and accepted"
                );
                context.ui.hint(hint);
                return Ok(());
            }
            true => context.ui.status(format!(
                "Made {code}: {gross} {} to be paid.",
                answer.sheet.currency
            )),
            false => {
                let columns = answer.options.len().saturating_add(1);
                context
                    .ui
                    .status(format!("Made {code}: {columns} options to choose from."));
            }
        }
        context.ui.hint(format!(
            "for the customer: ellwand quote print {code} --pdf {code}.pdf; how it is made up: ellwand quote show {code} --inside"
        ));
        Ok(())
    }
}
