//! A year's figures: what an hour must bring.

use crate::{
    desk::{
        Desk,
        context::Context,
        counter,
        failure::{Done, Failure, invalid},
        perform::Perform,
    },
    workshop::{FinalCosts, Sets, costs_from, counts_from, save, since},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Micro, Problem, ProblemType,
    figures::{Figures, GetFigures, SetFigures, YearlyFigures},
};
use ellwand_domain::{
    allocation::round_to_total,
    costing::HourlyCost,
    pricing::{PricingError, WorkshopFigures, WorkshopRates},
    quantity::{Millionths, Minutes, PartsPerMillion},
};
use ellwand_storage::{OverheadRate, YearlyFigures as Row};

/// Weeks of a year, the last one begun.
const WEEKS: i64 = 53;
/// Minutes of a week.
const WEEK: i64 = 7 * 24 * 60;

impl Perform for GetFigures {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Figures, Failure> {
        view(desk, self.on.unwrap_or(desk.context.today))
    }
}

impl Sets for SetFigures {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Figures> {
        let from = counts_from(
            desk.context,
            self.from,
            desk.tx.yearly_figures()?.is_empty(),
        );
        let overhead_from = counts_from(
            desk.context,
            self.from,
            desk.tx.overhead_rates()?.is_empty(),
        );
        let figures = WorkshopFigures {
            pay: desk.context.home_money("pay", &self.pay)?,
            overhead: desk.context.home_money("overhead", &self.overhead)?,
            weeks: self.weeks,
            minutes_per_week: self.hours.value(),
            billable: self.billable.value(),
        };
        if !(1..=WEEKS).contains(&self.weeks) {
            return Err(invalid(
                "weeks",
                format!("a working year has 1 to {WEEKS} weeks, not {}", self.weeks),
            )
            .with("wanted", self.weeks)
            .with("least", 1)
            .with("most", WEEKS));
        }
        if !(1..=WEEK).contains(&figures.minutes_per_week.get()) {
            let detail = format!(
                "\"{}\" is not a working week: give more than 0 h, 168 h at most",
                self.hours.text()
            );
            return Err(invalid("hours", detail)
                .with("wanted_minutes", figures.minutes_per_week.get())
                .with("most_minutes", WEEK));
        }
        let rates = figures.rates().map_err(refused)?;
        costs_from(desk.context, from)?;
        costs_from(desk.context, overhead_from)?;
        let row = Row {
            id: desk.tx.next_numbers(counter::RATE, 1)?,
            pay: figures.pay.get(),
            overhead: figures.overhead.get(),
            weeks: figures.weeks,
            week_minutes: figures.minutes_per_week.get(),
            billable_ppm: figures.billable.get(),
            from_date: from,
        };
        let before = FinalCosts::read(desk, from.min(overhead_from))?;
        desk.tx.save_yearly_figures(&row)?;
        // The cost sheet reads this one, so that both say the same.
        let rate = OverheadRate {
            id: desk.tx.next_numbers(counter::RATE, 1)?,
            amount: rates.overhead.amount().get(),
            minutes: rates.overhead.minutes(),
            from_date: overhead_from,
        };
        desk.tx.save_overhead_rate(&rate)?;
        before.unchanged(desk, self.really)?;
        save(desk, desk.context.workshop.clone(), "year's figures")?;
        view(desk, self.from.unwrap_or(desk.context.today))
    }
}

/// What only a share of the time can still be wrong with.
fn refused(error: PricingError) -> Failure {
    Problem::from(invalid("billable", error.to_string()))
        .hint("give the share of the working time that customers pay for, such as 60%")
        .into()
}

/// The rates of a row.
pub(crate) fn rates(row: &Row) -> Done<WorkshopRates> {
    let figures = WorkshopFigures {
        pay: Millionths::new(row.pay)?,
        overhead: Millionths::new(row.overhead)?,
        weeks: row.weeks,
        minutes_per_week: Minutes::new(row.week_minutes)?,
        billable: PartsPerMillion::new(row.billable_ppm)?,
    };
    figures.rates().map_err(fault)
}

/// What was accepted once is refused by no arithmetic later.
fn fault(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}

fn view(desk: &mut Desk<'_>, day: NaiveDate) -> Done<Figures> {
    let all = desk.tx.yearly_figures()?;
    let days = all.into_iter().map(|row| row.from_date).collect();
    let Some(row) = desk.tx.yearly_figures_on(day)? else {
        return Ok(Figures {
            figures: None,
            days,
            notes: Vec::new(),
        });
    };
    let rates = rates(&row)?;
    let notes = desk
        .tx
        .overhead_rate_on(day)?
        .and_then(|rate| other_overhead(&rates, &rate, day));
    Ok(Figures {
        figures: Some(steps(desk.context, &rates, row.from_date)?),
        days,
        notes: notes.into_iter().collect(),
    })
}

/// A remark when the overhead rate of the day was set apart from these figures.
fn other_overhead(rates: &WorkshopRates, rate: &OverheadRate, day: NaiveDate) -> Option<String> {
    let product =
        |amount: i64, minutes: i64| i128::from(amount).saturating_mul(i128::from(minutes));
    let (amount, minutes) = (rates.overhead.amount().get(), rates.overhead.minutes());
    let same = product(amount, rate.minutes) == product(rate.amount, minutes);
    (!same).then(|| {
        let from = since(rate.from_date);
        format!(
            "the cost sheet of {day} uses another overhead rate: the one that applies from {from}"
        )
    })
}

fn steps(context: &Context<'_>, rates: &WorkshopRates, from: NaiveDate) -> Done<YearlyFigures> {
    let figures = rates.figures;
    let hour = |rate: HourlyCost| rate.of(60);
    let all = WorkshopFigures {
        billable: PartsPerMillion::WHOLE,
        ..figures
    }
    .rates()
    .map_err(fault)?;
    let (labour, overhead) = (hour(rates.labour)?, hour(rates.overhead)?);
    let digits = context.currency.digits();
    let (printed, total) = round_to_total(&[labour, overhead], digits).map_err(fault)?;
    let amount_text = |minor: Option<&i64>| -> Done<String> {
        let scale = 10_i64.pow(6_u32.saturating_sub(digits));
        Ok(context.printed(Millionths::new(
            minor.copied().unwrap_or_default().saturating_mul(scale),
        )?))
    };
    Ok(YearlyFigures {
        from,
        currency: context.currency.code().to_owned(),
        pay: Micro(figures.pay),
        overhead: Micro(figures.overhead),
        together: Micro(figures.pay.plus(figures.overhead)?),
        weeks: figures.weeks,
        week_minutes: figures.minutes_per_week.get(),
        billable_percent: figures.billable.decimal(),
        worked_minutes: rates.worked.get(),
        billable_minutes: rates.billable.get(),
        labour_per_hour: Micro(labour),
        overhead_per_hour: Micro(overhead),
        per_hour: Micro(hour(rates.hourly)?),
        per_hour_if_all_billable: Micro(hour(all.hourly)?),
        labour_printed: amount_text(printed.first())?,
        overhead_printed: amount_text(printed.get(1))?,
        per_hour_printed: amount_text(Some(&total))?,
    })
}
