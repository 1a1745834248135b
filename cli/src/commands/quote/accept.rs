//! `ellwand quote accept`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{quotation, reservation},
    verb::{Run, Verb},
};
use ellwand_contract::{
    Problem, ProblemType,
    quotations::{AcceptQuotation, GetQuotation, Quotation},
    text::{nearest, spelled},
};

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
        self.act.version = match self.version.or(sent.map(|sent| sent.version)) {
            Some(version) => version,
            None => newest(&self.act, context)?,
        };
        self.act.run(context)
    }
}

/// Shows the newest version, asks, and names it in the command that would repeat the request.
fn newest(act: &AcceptQuotation, context: &mut Context<'_, '_>) -> Result<i64, CommandError> {
    let quotation = act.quotation;
    let newest = GetQuotation {
        quotation,
        version: None,
    };
    let answer = context.call(&newest)?;
    check_option(act, &answer)?;
    if !context.is_json() {
        quotation::show(context, &answer, false)?;
        context.ui.blank();
    }
    let (version, of) = (answer.version, beside(act.option.as_ref()));
    context.confirm(&format!("Accept version {version} of {quotation}{of}?"))?;
    context.add_to_command(["--version".to_owned(), version.to_string()]);
    Ok(version)
}

/// An option that is missing or not offered is refused before anyone is asked.
fn check_option(act: &AcceptQuotation, quotation: &Quotation) -> Result<(), CommandError> {
    let Some(plan) = &quotation.plan_is else {
        return Ok(());
    };
    let names = std::iter::once(plan).chain(quotation.options.iter().map(|option| &option.name));
    let names: Vec<String> = names.cloned().collect();
    let spelled = |name: &str| spelled(name).to_lowercase();
    let detail = match &act.option {
        Some(asked) if names.iter().any(|name| spelled(name) == spelled(asked)) => return Ok(()),
        Some(asked) => format!("{} offers no option {asked}", quotation.quotation),
        None => format!(
            "{} offers {} options: which one?",
            quotation.quotation,
            names.len()
        ),
    };
    let near = act.option.as_ref().and_then(|asked| nearest(asked, &names));
    let hint = match near {
        Some(near) => format!("did you mean --option '{near}'?"),
        None => format!("choose with --option from {}", names.join(", ")),
    };
    Err(Problem::new(ProblemType::InvalidValue, detail)
        .field("option")
        .hint(hint)
        .into())
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
            self.version, self.quotation, sheet.gross, sheet.currency
        ));
        ui.notes(&answer.notes);
        Ok(())
    }
}
