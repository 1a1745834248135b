//! `ellwand workshop spent`.

use crate::{
    command_error::CommandError,
    context::Context,
    ui::{
        Shown, Table,
        time::{minutes, since},
    },
    verb::{Run, Verb},
};
use ellwand_contract::{
    overhead::{GetOverheadSpent, PeriodOverhead, SetOverheadSpent},
    text::counted,
};
use ellwand_domain::costing::Applied;
use uuid::Uuid;

#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop spent
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31 --overhead 10200
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31
  ellwand workshop spent --from 2026-01-01 --to 2026-12-31 --forget")]
pub struct Args {
    #[command(flatten)]
    period: GetOverheadSpent,
    /// Overhead that was spent in the period: 10200
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true, requires_all = ["from", "to"])]
    overhead: Option<String>,
    /// Forget what was spent in the period
    #[arg(long, conflicts_with = "overhead", requires_all = ["from", "to"])]
    forget: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let days = self.period.from.zip(self.period.to);
        match days.filter(|_| self.overhead.is_some() || self.forget) {
            Some((from, to)) => SetOverheadSpent {
                id: Uuid::nil(),
                from,
                to,
                amount: self.overhead,
            }
            .run(context),
            None => self.period.run(context),
        }
    }
}

impl Verb for SetOverheadSpent {
    fn show(
        &self,
        answer: PeriodOverhead,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        show(context, &answer)?;
        let (from, to, currency) = (self.from, self.to, &answer.currency);
        context.ui.status(match &self.amount {
            Some(amount) => format!("Kept {amount} spent from {from} to {to}, in {currency}."),
            None => format!("Forgot what was spent from {from} to {to}."),
        });
        Ok(())
    }
}

impl Verb for GetOverheadSpent {
    fn show(
        &self,
        answer: PeriodOverhead,
        context: &mut Context<'_, '_>,
    ) -> Result<(), CommandError> {
        show(context, &answer)?;
        if answer.spent.is_none() {
            let (from, to) = (answer.from, answer.to);
            context.ui.hint(format!(
                "log it: ellwand workshop spent --from {from} --to {to} --overhead AMOUNT"
            ));
        }
        Ok(())
    }
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
        let standing = match spent.standing {
            Applied::Under => "under-applied: more was spent than the work carried",
            Applied::Over => "over-applied: the work carried more than was spent",
            Applied::Exactly => "the work carried exactly what was spent",
        };
        ui.line(standing);
    }
    let others = answer
        .kept
        .iter()
        .filter(|kept| (kept.from, kept.to) != (answer.from, answer.to));
    let mut table = Table::headed("also kept from | to | >spent");
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
    let mut table = Table::headed("step | working | >result");
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
            let rate = shown.value(rate);
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
