//! `ellwand quote make`.

use super::{
    cloth,
    options::{self, Options},
};
use crate::{
    command_error::CommandError,
    context::Context,
    ui::{Ui, quotation},
    verb::Run,
};
use ellwand_contract::{
    options::OptionCloth,
    quotations::{MakeQuotation, Quotation},
};

const EXAMPLES: &str = "\
Examples:
  ellwand quote make G5 --margin 35%
  ellwand quote make G5 --markup 40% --material-markup 15% --round-up x.95
  ellwand quote make G5 --price 450.00 --discount 10%
  ellwand quote make G5 --hourly 30.00 --stage 'deposit=40% of gross' \\\n    --stage 'at delivery'
  ellwand quote make G5 --with shell=L7 \\\n    --with 'shell=64.00/m,width=150cm,shrinkage=3%/1%'
  ellwand quote make G5 --try
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
/// With --try it only says what it would come to: nothing is booked, and no number is used up.
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
        said(context.ui, &answer);
        Ok(())
    }
}

/// Says what was made, or what a trial would come to, and what to do next.
fn said(ui: &mut Ui<'_>, answer: &Quotation) {
    let (code, sheet) = (answer.quotation, &answer.sheet);
    let made = match answer.is_trial {
        true => "Only tried, nothing is booked".to_owned(),
        false => format!("Made {code}"),
    };
    let missing = sheet.to_be_priced.join(", ");
    let (is_offer, is_one) = (missing.is_empty(), answer.options.is_empty());
    ui.status(match is_one {
        true if !is_offer => format!("{made}, not an offer yet; not priced: {missing}."),
        true => format!("{made}: {} {} to be paid.", sheet.gross, sheet.currency),
        false => {
            let columns = answer.options.len().saturating_add(1);
            format!("{made}: {columns} options to choose from.")
        }
    });
    ui.hint(match (answer.is_trial, is_one && !is_offer) {
        (true, _) => "the same without --try makes the quotation".to_owned(),
        (false, true) => {
            format!(
                "give what has no price one: ellwand quote again {code} --material-price ROLE=AMOUNT"
            )
        }
        (false, false) => {
            format!("ellwand quote print {code} --pdf FILE; ellwand quote show {code} --inside")
        }
    });
}
