//! `ellwand quote accept`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{quotation, reservation},
    verb::{Run, Verb},
};
use ellwand_contract::{
    ProblemType,
    quotations::{AcceptQuotation, GetQuotation, Quotation},
};
use uuid::Uuid;

/// Accept a quotation for the customer, and promise the materials if asked
///
/// Only the newest version can be accepted, until its last day. What was promised with it stays promised, without an end
/// date. With --reserve the best pieces are promised to every open need in the same step, or nothing happens at all.
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  ellwand quote accept Q1\n  ellwand quote accept Q1 --option 'hand hem' --reserve\n  ellwand quote accept Q1 --version 2 --reserve"
)]
pub struct Args {
    #[command(flatten)]
    act: AcceptQuotation,
    /// Version that the customer agreed to [default: the newest, shown first]
    #[arg(long, value_name = "N")]
    version: Option<i64>,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let sent = context.sent_before::<AcceptQuotation>()?;
        let known = self.version.or(sent.and_then(|sent| sent.version));
        self.act.version = match known {
            Some(version) => Some(version),
            None => Some(newest(&self.act, context)?),
        };
        self.act.run(context)
    }
}

/// Shows the newest version in a few lines, asks, and names it in the command that would repeat the request. What the book would refuse anyway is
/// refused before anyone is asked.
fn newest(act: &AcceptQuotation, context: &mut Context<'_, '_>) -> Result<i64, CommandError> {
    let quotation = act.quotation;
    let without = AcceptQuotation {
        id: Uuid::now_v7(),
        version: None,
        ..act.clone()
    };
    match context.call(&without) {
        Err(CommandError::Problem { problem, .. })
            if problem.kind == ProblemType::NeedsConfirmation => {}
        Err(other) => return Err(other),
        // The book never accepts a version that nobody named.
        Ok(_) => {}
    }
    let answer = context.call(&GetQuotation {
        quotation,
        version: None,
    })?;
    if !context.is_json() && !context.is_yes() {
        quotation::show_made(context, &answer, false)?;
        context.ui.blank();
    }
    let (version, of) = (answer.version, beside(act.option.as_ref()));
    context.confirm(&format!("Accept version {version} of {quotation}{of}?"))?;
    context.add_to_command(["--version".to_owned(), version.to_string()]);
    Ok(version)
}

fn beside(option: Option<&String>) -> String {
    option
        .map(|option| format!(", {option}"))
        .unwrap_or_default()
}

impl Verb for AcceptQuotation {
    fn show(&self, answer: Quotation, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let shown = context.shown()?;
        let ui = &mut *context.ui;
        if !answer.reservations.is_empty() {
            ui.table(&reservation::table(shown, &answer.reservations));
        }
        let (sheet, of) = (
            quotation::agreed(&answer),
            beside(answer.accepted_option.as_ref()),
        );
        ui.status(format!(
            "Accepted version {} of {}{of}: {} {}.",
            answer.version, self.quotation, sheet.gross, sheet.currency
        ));
        ui.notes(&answer.notes);
        Ok(())
    }
}
