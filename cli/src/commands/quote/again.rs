//! `ellwand quote again`.

use super::{
    options::Options,
    price::{Price, stages},
};
use crate::{command_error::CommandError, context::Context, typed, ui::quotation};
use chrono::NaiveDate;
use ellwand_contract::quotations::{PriceInput, Requote};
use ellwand_domain::code::QuotationCode;

/// Make a new version of an open quotation, at today's figures
///
/// What is not said stays as it was asked, options too; anything said of the price, or any option, says it anew as a whole. The version before can no longer
/// be accepted. What changed is shown line by line.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote again Q1
  ellwand quote again Q1 --no-options
  ellwand quote again Q1 --margin 30% --valid-until 2026-12-31")]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    #[command(flatten)]
    price: Price,
    #[command(flatten)]
    options: Options,
    /// The plan alone, without the options of the version before
    #[arg(long, conflicts_with_all = ["option", "options"])]
    no_options: bool,
    /// Other stages of payment, all of them
    #[arg(long, value_name = "NAME=AMOUNT")]
    stage: Vec<String>,
    /// Its date; default today
    #[arg(long, value_parser = typed::date)]
    date: Option<NaiveDate>,
    /// Last day on which it may be accepted; default as long as the version before was valid
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    valid_until: Option<NaiveDate>,
    /// Other terms
    #[arg(long, value_name = "TEXT")]
    terms: Option<String>,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let stage = stages(&args.stage)?;
    let said = args.options.read()?;
    let anew = args.no_options || !said.options.is_empty();
    let act = Requote {
        id: context.new_id(),
        quotation: args.quotation,
        price: Some(args.price.input()).filter(|price| *price != PriceInput::default()),
        stage: Some(stage).filter(|stage| !stage.is_empty()),
        date: args.date,
        valid_until: args.valid_until,
        terms: args.terms,
        options: anew.then(|| said.options.clone()),
        plan_is: said.plan_is.clone(),
    };
    let answer = context.call(&act).map_err(|error| said.locate(error))?;
    if context.json(&answer)? {
        return Ok(());
    }
    quotation::show(context, &answer, true)?;
    context.ui.blank();
    quotation::changes(context.ui, &answer);
    context.ui.status(format!("Made version {} of {}.", answer.version, answer.quotation));
    Ok(())
}
