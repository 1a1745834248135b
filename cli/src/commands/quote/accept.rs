//! `ellwand quote accept`.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{quotation, reservation},
};
use chrono::NaiveDate;
use ellwand_contract::quotations::{AcceptQuotation, GetQuotation};
use ellwand_domain::code::QuotationCode;

/// Accept a quotation for the customer, and promise the materials if asked
///
/// Only the newest version can be accepted, until its last day. What was promised with it stays promised, without an end. With
/// --reserve the best pieces are promised to every open need in the same step, or nothing happens at all.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand quote accept Q1\n  ellwand quote accept Q1 --option 'hand hem' --reserve\n  ellwand quote accept Q1 --version 2 --reserve"
)]
pub struct Args {
    /// Which
    quotation: QuotationCode,
    /// The version that the customer agreed to; default the newest, once it was shown
    #[arg(long, value_name = "N")]
    version: Option<i64>,
    /// Which of its options, where there are several; the plan becomes what was agreed to
    #[arg(long, value_name = "NAME")]
    option: Option<String>,
    /// Promise the materials in the same step
    #[arg(long)]
    reserve: bool,
    /// Day; default today
    #[arg(long, value_parser = typed::date)]
    date: Option<NaiveDate>,
}

pub(super) fn run(args: &Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let code = args.quotation;
    let version = match (args.version, context.sent_before::<AcceptQuotation>()?) {
        (Some(version), _) => version,
        (None, Some(sent)) => sent.version,
        (None, None) => {
            let answer = context.call(&GetQuotation {
                quotation: code,
                version: None,
            })?;
            if !context.is_json() {
                quotation::show(context, &answer, false)?;
                context.ui.blank();
            }
            let of = args
                .option
                .as_ref()
                .map(|option| format!(", {option}"))
                .unwrap_or_default();
            context.confirm(&format!("Accept version {} of {code}{of}?", answer.version))?;
            context.add_to_command(["--version".to_owned(), answer.version.to_string()]);
            answer.version
        }
    };
    let act = AcceptQuotation {
        id: context.new_id(),
        quotation: code,
        version,
        option: args.option.clone(),
        reserve: args.reserve,
        date: args.date,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    let shown = context.shown()?;
    if !answer.reservations.is_empty() {
        context
            .ui
            .table(&reservation::table(shown, &answer.reservations));
    }
    let sheet = quotation::agreed(&answer);
    let of = answer
        .accepted_option
        .as_ref()
        .map(|option| format!(", {option}"))
        .unwrap_or_default();
    context.ui.status(format!(
        "Accepted version {version} of {code}{of}: {} {}.",
        sheet.gross, sheet.currency
    ));
    context.ui.notes(&answer.notes);
    Ok(())
}
