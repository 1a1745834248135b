//! `ellwand workshop spent`.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{
        Shown, Table, left, right,
        time::{minutes, since},
    },
};
use chrono::NaiveDate;
use ellwand_contract::{
    overhead::{GetOverheadSpent, PeriodOverhead, SetOverheadSpent},
    text::counted,
};
use ellwand_domain::costing::Applied;

/// Show the overhead that the work of a period carried, against what was spent
///
/// Billable minutes carry the overhead rate of their days; what was really spent is typed once and kept. Under-applied:
/// more was spent than the garments' cost sheets say. Also what an hour should have carried, and the share of billable
/// hours against the year's figures. Work that was taken back and work on cancelled garments is left out; of days whose books
/// were closed by then it stays, and is taken off on the day it was taken back.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop spent
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31 --overhead 10200
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31 --forget")]
pub struct Args {
    /// First day; default the first of the last day's year
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    from: Option<NaiveDate>,
    /// Last day; default today
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    to: Option<NaiveDate>,
    /// Overhead that was spent in it, to be kept
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true, requires_all = ["from", "to"])]
    overhead: Option<String>,
    /// Forget what is kept for these days
    #[arg(long, conflicts_with = "overhead", requires_all = ["from", "to"])]
    forget: bool,
}

pub(super) fn run(args: Args, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
    let Args {
        from,
        to,
        overhead,
        forget,
    } = args;
    let answer = match from.zip(to).filter(|_| overhead.is_some() || forget) {
        Some((from, to)) => {
            let id = context.new_id();
            context.call(&SetOverheadSpent {
                id,
                from,
                to,
                amount: overhead.clone(),
            })?
        }
        None => context.call(&GetOverheadSpent { from, to })?,
    };
    if context.json(&answer)? {
        return Ok(());
    }
    show(context, &answer)?;
    let PeriodOverhead {
        from, to, currency, ..
    } = &answer;
    match overhead {
        Some(amount) => {
            context.ui.status(format!(
                "Kept {amount} spent from {from} to {to}, in {currency}."
            ));
        }
        None if forget => context
            .ui
            .status(format!("Forgot what was spent from {from} to {to}.")),
        None if answer.spent.is_none() => {
            context.ui.hint(format!(
                "keep what was spent with: ellwand workshop spent --from {from} --to {to} --overhead AMOUNT"
            ));
        }
        None => {}
    }
    Ok(())
}

fn show(context: &mut Context<'_, '_>, answer: &PeriodOverhead) -> Result<(), CommandError> {
    let shown = context.shown()?;
    let ui = &mut *context.ui;
    ui.line(format!(
        "overhead from {} to {}, in {}",
        answer.from, answer.to, answer.currency
    ));
    ui.blank();
    ui.table(&working(shown, answer));
    if let Some(spent) = &answer.spent {
        let told = match spent.standing {
            Applied::Under => "under-applied: more was spent than the work carried",
            Applied::Over => "over-applied: the work carried more than was spent",
            Applied::Exactly => "the work carried exactly what was spent",
        };
        ui.line(told);
    }
    let others = answer
        .kept
        .iter()
        .filter(|kept| (kept.from, kept.to) != (answer.from, answer.to));
    let mut table = Table::new([left("also kept from"), left("to"), right("spent")]);
    for kept in others {
        table.row([
            kept.from.to_string(),
            kept.to.to_string(),
            shown.value(kept.amount),
        ]);
    }
    if !table.is_empty() {
        ui.blank();
        ui.table(&table);
    }
    ui.notes(&answer.notes);
    Ok(())
}

fn working(shown: Shown, answer: &PeriodOverhead) -> Table {
    let mut table = Table::new([left("step"), left("working"), right("result")]);
    let billable = minutes(answer.billable_minutes);
    for rate in &answer.rates {
        let step = match rate.from {
            Some(from) => format!("at the rate from {}", since(from)),
            None => "without a rate".to_owned(),
        };
        let working = format!("{} x {}", minutes(rate.minutes), rate.per_hour.0.rounded(4));
        table.row([step, working, rate.printed.clone()]);
    }
    table.rule();
    table.row(["applied", &billable, &answer.applied_printed]);
    if let Some(spent) = &answer.spent {
        let amount = shown.value(spent.amount);
        table.row(["spent", "", &amount]);
        let working = format!("{amount} - {}", answer.applied_printed);
        table.row([
            spent.standing.to_string(),
            working,
            spent.difference_printed.clone(),
        ]);
        if let Some(rate) = spent.rate_needed {
            let rate = rate.0.rounded(4);
            table.row([
                "an hour should have carried",
                &format!("{amount} / {billable}"),
                &rate,
            ]);
        }
    }
    table.rule();
    table.row(["time on garments", "", &minutes(answer.logged_minutes)]);
    table.row(["of it billable", "", &billable]);
    if answer.cancelled_minutes > 0 {
        table.row([
            "left out, on cancelled garments",
            "",
            &minutes(answer.cancelled_minutes),
        ]);
    }
    if let Some(reached) = &answer.reached {
        let worked = minutes(reached.worked_minutes);
        let days = format!("{} by the year's figures", counted(reached.days, "day"));
        table.row(["time to be worked", &days, &worked]);
        let working = format!("{worked} x {} %", reached.percent);
        table.row([
            "of it to be billable",
            &working,
            &minutes(reached.billable_minutes),
        ]);
        if let Some(share) = &reached.reached_percent {
            let step = format!("billable share, against {} %", reached.percent);
            table.row([step, format!("{billable} / {worked}"), format!("{share} %")]);
        }
    }
    table
}
