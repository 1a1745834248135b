//! `ellwand work`: logs minutes.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{Table, left, right, time::minutes},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Typed,
    work::{LogWork, WorkLogged},
};
use ellwand_domain::{
    code::GarmentCode,
    quantity::Minutes,
    setting::{WorkKind, WorkReason},
};

/// Log the time of an operation on a garment
///
/// The hours are those of whoever logs them: the person signed in, without a server the name in your settings. A planned
/// operation of the same name lends its kind and billing; whom it was planned for does not say who worked.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:\n  ellwand work G5 sewing 2h30\n  \
    ellwand work G5 hem 45min --kind hand --person anna\n  \
    ellwand work G5 sewing 30min --reason own-mistake")]
pub struct Args {
    /// On which garment
    garment: GarmentCode,
    /// Operation, such as sewing or hem
    operation: String,
    /// How long: 2h30, 150min
    time: Typed<Minutes>,
    /// Kind of work: machine, hand, cutting, fitting, pressing, admin [default: as planned]
    #[arg(long)]
    kind: Option<WorkKind>,
    /// By someone else, for whoever may set pay rates [default: yourself]
    #[arg(long)]
    person: Option<String>,
    /// It carries labour and overhead [default: as planned, else all kinds but admin]
    #[arg(long, overrides_with = "not_billable")]
    billable: bool,
    /// It carries neither labour nor overhead
    #[arg(long, overrides_with = "billable")]
    not_billable: bool,
    /// The detail that it belongs to, for work that was not planned [default: as planned]
    #[arg(long, value_name = "NAME")]
    detail: Option<String>,
    /// Why it was not in the plan: own-mistake, faulty-cloth, customer-change
    #[arg(long, default_value_t = WorkReason::Planned)]
    reason: WorkReason,
    /// Day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    date: Option<NaiveDate>,
}

/// Runs it.
///
/// # Errors
/// Why it ended without its result.
pub fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let billable = if args.billable || args.not_billable {
        Some(args.billable)
    } else {
        None
    };
    let act = LogWork {
        id: context.new_id(),
        garment: args.garment,
        operation: args.operation,
        time: args.time,
        kind: args.kind,
        person: args.person,
        billable,
        detail: args.detail,
        reason: args.reason,
        date: args.date,
    };
    let answer = context.call(&act)?;
    if context.json(&answer)? {
        return Ok(());
    }
    show(&answer, args.reason, context);
    Ok(())
}

fn show(answer: &WorkLogged, reason: WorkReason, context: &mut Context<'_, '_>) {
    let ui = &mut *context.ui;
    let mut table = Table::new([
        left("work"),
        right("now"),
        right("so far"),
        right("planned"),
        left(""),
    ]);
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
