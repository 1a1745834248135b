//! `ellwand quote make`.

use super::{
    options::{self, Options},
    price::{Price, stages},
};
use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{offers, quotation},
};
use chrono::NaiveDate;
use ellwand_contract::quotations::MakeQuotation;
use ellwand_domain::{code::GarmentCode, setting::PriceFrom};

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
/// price is listed, never taken for nothing.
#[derive(Debug, clap::Args)]
#[command(after_help = format!("{}\n\n{EXAMPLES}", options::HELP))]
pub struct Args {
    /// For which garment
    garment: GarmentCode,
    /// From the plan, or from what it did cost: plan, actual
    #[arg(long, value_name = "WHAT")]
    from: Option<PriceFrom>,
    #[command(flatten)]
    price: Price,
    #[command(flatten)]
    options: Options,
    /// A stage of payment: 'deposit=40% of gross', 'cloth=100% of materials by 2026-11-01'; the last takes the rest
    #[arg(long, value_name = "NAME=AMOUNT")]
    stage: Vec<String>,
    /// Its date; default today
    #[arg(long, value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Last day on which it may be accepted; default 30 days later
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    valid_until: Option<NaiveDate>,
    /// Terms that the customer reads
    #[arg(long, value_name = "TEXT")]
    terms: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let said = args.options.read()?;
    let act = MakeQuotation {
        id: context.new_id(),
        garment: args.garment,
        from: args.from,
        price: args.price.input(),
        stage: stages(&args.stage)?,
        date: args.date,
        valid_until: args.valid_until,
        terms: args.terms,
        options: said.options.clone(),
        plan_is: said.plan_is.clone(),
    };
    let answer = context.call(&act).map_err(|error| said.locate(error))?;
    if context.json(&answer)? {
        return Ok(());
    }
    quotation::show(context, &answer, true)?;
    let (code, gross) = (answer.quotation, &answer.sheet.gross);
    match answer.options.is_empty() {
        true => context.ui.status(format!("Made {code}: {gross} {} to be paid.", answer.sheet.currency)),
        false => {
            let columns = offers::columns(&answer).into_iter();
            let told: Vec<_> = columns.map(|(name, sheet)| format!("{name} {}", sheet.gross)).collect();
            let (told, currency) = (told.join(", "), &answer.sheet.currency);
            context.ui.status(format!("Made {code}; to be paid in {currency}: {told}."));
        }
    }
    context.ui.hint(format!("for the customer: ellwand quote print {code} --pdf {code}.pdf"));
    Ok(())
}
