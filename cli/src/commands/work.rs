//! `ellwand work`: logs minutes.

use crate::{
    command_error::CommandError,
    context::Context,
    typed::chosen,
    ui::{Table, time::minutes},
    verb::{Run, Verb},
};
use ellwand_contract::work::{LogWork, WorkLogged};
use ellwand_domain::setting::WorkReason;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand work G5 sewing 2h30\n  \
    ellwand work G5 hem 45min --kind hand --person anna\n  \
    ellwand work G5 sewing 30min --reason own-mistake")]
pub struct Args {
    #[command(flatten)]
    act: LogWork,
    /// Charge labour and overhead for it [default: as planned, else all kinds but admin]
    #[arg(long, overrides_with = "not_billable")]
    billable: bool,
    /// Charge neither labour nor overhead for it
    #[arg(long, overrides_with = "billable")]
    not_billable: bool,
}

impl Run for Args {
    fn run(mut self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        self.act.billable = chosen(self.billable, self.not_billable);
        self.act.run(context)
    }
}

impl Verb for LogWork {
    fn show(&self, answer: WorkLogged, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show(&answer, self.reason, context);
        Ok(())
    }
}

fn show(answer: &WorkLogged, reason: WorkReason, context: &mut Context<'_, '_>) {
    let ui = &mut *context.ui;
    let mut table = Table::headed("work | >now | >so far | >planned |");
    table.row([
        answer.operation.clone(),
        minutes(answer.minutes),
        minutes(answer.worked_minutes),
        answer
            .planned_minutes
            .map_or_else(|| "not planned".to_owned(), minutes),
        over(answer).unwrap_or_default(),
    ]);
    ui.table(&table);
    ui.notes(&answer.notes);
    let why = if reason == WorkReason::Planned {
        String::new()
    } else {
        format!(" ({reason})")
    };
    let rate = answer
        .per_hour
        .as_ref()
        .map(|rate| format!(" at {rate} an hour"))
        .unwrap_or_default();
    let detail = answer
        .detail
        .as_ref()
        .map(|detail| format!(", for the {detail}"))
        .unwrap_or_default();
    ui.status(format!(
        "Logged {} of {} on {}{detail} by {}{rate}{why}.",
        minutes(answer.minutes),
        answer.operation,
        answer.garment,
        answer.person
    ));
}

/// `1 h over`, once more was worked than planned.
fn over(answer: &WorkLogged) -> Option<String> {
    let over = answer.worked_minutes.checked_sub(answer.planned_minutes?)?;
    (over > 0).then(|| format!("{} over", minutes(over)))
}
