//! `ellwand workshop figures`.

use crate::{
    command_error::CommandError,
    context::Context,
    typed,
    ui::{
        Shown, Table,
        time::{minutes, since},
    },
    verb::{Run, Verb},
};
use chrono::NaiveDate;
use clap::ArgGroup;
use ellwand_contract::{
    Typed,
    figures::{Figures, GetFigures, SetFigures, YearlyFigures},
    text::counted,
};
use ellwand_domain::quantity::{Minutes, PartsPerMillion};
use uuid::Uuid;

/// Show or set what an hour must bring: pay and overhead of a year over its billable hours
///
/// Without figures it shows those in force, with the working. Setting them also sets the overhead on a billable hour, so that
/// the cost sheet and these figures agree. Ratios are kept exact; nothing is rounded before it is shown.
#[derive(Debug, clap::Args)]
#[command(after_help = "Examples:
  ellwand workshop figures --pay 30000 --overhead 9600 --weeks 46 \\\n    --hours 40h --billable 60%
  ellwand workshop figures --pay 31000 --overhead 9600 --weeks 46 \\\n    --hours 40h --billable 60% --from 2027-01-01
  ellwand workshop figures
  ellwand workshop figures --on 2026-12-31")]
#[command(group(
    ArgGroup::new("set")
        .multiple(true)
        .args(["pay", "overhead", "weeks", "hours", "billable", "from"])
        .requires_all(["pay", "overhead", "weeks", "hours", "billable"])
))]
#[group(skip)]
pub struct Args {
    /// Own pay wanted for the year, before own taxes
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true)]
    pay: Option<String>,
    /// Running expenses of the year
    #[arg(long, value_name = "AMOUNT", allow_negative_numbers = true)]
    overhead: Option<String>,
    /// Weeks worked in the year
    #[arg(long, value_name = "N", allow_negative_numbers = true)]
    weeks: Option<i64>,
    /// Time worked in a week: 40h
    #[arg(long, value_name = "TIME")]
    hours: Option<Typed<Minutes>>,
    /// Share of that time that customers pay for: 60%
    #[arg(long, value_name = "SHARE")]
    billable: Option<Typed<PartsPerMillion>>,
    /// From this day on [default: today; for the first ones from the beginning, though not into closed books]
    #[arg(long, value_name = "DATE", value_parser = typed::date)]
    from: Option<NaiveDate>,
    /// Show those that count on this day [default: today]
    #[arg(long, value_name = "DATE", value_parser = typed::date, conflicts_with = "set")]
    on: Option<NaiveDate>,
    /// Allow it to change the cost of finished garments
    #[arg(long, requires = "set")]
    really: bool,
}

impl Run for Args {
    fn run(self, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        let Args {
            pay,
            overhead,
            weeks,
            hours,
            billable,
            from,
            on,
            really,
        } = self;
        let set = pay.zip(overhead).zip(weeks).zip(hours).zip(billable);
        let Some(((((pay, overhead), weeks), hours), billable)) = set else {
            return GetFigures { on }.run(context);
        };
        let act = SetFigures {
            id: Uuid::nil(),
            pay,
            overhead,
            weeks,
            hours,
            billable,
            from,
            really,
        };
        act.run(context)
    }
}

impl Verb for GetFigures {
    fn show(&self, answer: Figures, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        if answer.figures.is_none() {
            let day = self.on.map_or_else(String::new, |day| format!(" on {day}"));
            context.ui.status(format!("No figures count{day}."));
            let hint = "set them: ellwand workshop figures --pay 30000 --overhead 9600 --weeks 46 --hours 40h --billable 60%";
            context.ui.hint(hint);
        }
        show(context, &answer)
    }
}

impl Verb for SetFigures {
    fn show(&self, answer: Figures, context: &mut Context<'_, '_>) -> Result<(), CommandError> {
        show(context, &answer)?;
        if let Some(figures) = &answer.figures {
            context.ui.status(format!(
                "A billable hour must bring {} {} from {} on; the overhead is set with it.",
                figures.per_hour_printed,
                figures.currency,
                since(figures.from)
            ));
        }
        Ok(())
    }
}

/// The figures with the working, and the other days that have some.
fn show(context: &mut Context<'_, '_>, answer: &Figures) -> Result<(), CommandError> {
    let shown = context.shown()?;
    if let Some(figures) = &answer.figures {
        context.ui.line(format!(
            "from {}, in {}",
            since(figures.from),
            figures.currency
        ));
        context.ui.blank();
        context.ui.table(&working(shown, figures));
    }
    let known = answer.figures.as_ref().map(|figures| figures.from);
    let others: Vec<String> = answer
        .days
        .iter()
        .filter(|day| Some(**day) != known)
        .map(|day| since(*day))
        .collect();
    if !others.is_empty() {
        context.ui.blank();
        context
            .ui
            .line(format!("others count from {}", others.join(", ")));
    }
    context.ui.notes(&answer.notes);
    Ok(())
}

fn working(shown: Shown, figures: &YearlyFigures) -> Table {
    let YearlyFigures {
        pay,
        overhead,
        together,
        per_hour_printed: hour,
        ..
    } = figures;
    let [pay, overhead, together] = [pay, overhead, together].map(|value| shown.value(*value));
    let (worked, billable) = (
        minutes(figures.worked_minutes),
        minutes(figures.billable_minutes),
    );
    let (labour, share) = (&figures.labour_printed, &figures.overhead_printed);
    let all = shown.value(figures.per_hour_if_all_billable);
    let mut table = Table::headed("step | working | >result");
    table.row([
        "pay and overhead",
        &format!("{pay} + {overhead}"),
        &together,
    ]);
    table.row([
        "time worked",
        &format!(
            "{} x {}",
            counted(figures.weeks, "week"),
            minutes(figures.week_minutes)
        ),
        &worked,
    ]);
    table.row([
        "billable",
        &format!("{worked} x {} %", figures.billable_percent),
        &billable,
    ]);
    table.row(["labour an hour", &format!("{pay} / {billable}"), labour]);
    table.row([
        "overhead an hour",
        &format!("{overhead} / {billable}"),
        share,
    ]);
    table.rule();
    table.row(["an hour must bring", &format!("{labour} + {share}"), hour]);
    table.rule();
    table.row([
        "too little: all hours as billable",
        &format!("{together} / {worked}"),
        &all,
    ]);
    table
}
