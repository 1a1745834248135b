//! `ellwand quote again`.

use super::price::{Price, stages};
use crate::{command_error::CommandError, context::Context, typed, ui::quotation};
use chrono::NaiveDate;
use ellwand_contract::quotations::{PriceInput, Requote};
use ellwand_domain::code::QuotationCode;

/// Make a new version of an open quotation, at today's figures
///
/// What is not said stays as it was asked; anything said of the price says it anew as a whole. The version before can no longer
/// be accepted. What changed is shown line by line.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand quote again Q1
  ellwand quote again Q1 --margin 30% --valid-until 2026-12-31")]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    #[command(flatten)]
    price: Price,
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
    let act = Requote {
        id: context.new_id(),
        quotation: args.quotation,
        price: Some(args.price.input()).filter(|price| *price != PriceInput::default()),
        stage: Some(stage).filter(|stage| !stage.is_empty()),
        date: args.date,
        valid_until: args.valid_until,
        terms: args.terms,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    quotation::show(context, &answer, true)?;
    context.ui.blank();
    quotation::changes(context.ui, &answer);
    context.ui.status(format!("Made version {} of {}.", answer.version, answer.quotation));
    Ok(())
}
