//! The overhead of a period: what the work carried against what was spent. What was spent is a setting.

use crate::{
    desk::{
        Desk,
        context::Context,
        counter,
        failure::{Done, Failure, invalid, not_found},
        perform::Perform,
    },
    money::figures,
    workshop::{Sets, save, settles},
};
use chrono::{Datelike, Months, NaiveDate};
use ellwand_contract::{
    Micro, Problem, ProblemType,
    overhead::{
        BillableReached, GetOverheadSpent, KeptPeriod, PeriodOverhead as View, RateApplied,
        SetOverheadSpent, Spent,
    },
};
use ellwand_domain::{
    costing::{
        CostError, CostItem, HourlyCost, PeriodOverhead, billable_share, minutes_in_days,
        planned_overhead,
    },
    quantity::{Millionths, PARTS_PER_MILLION, exact},
};
use ellwand_storage::{OverheadRate, OverheadSpent, Tx, WorkEntry, WorkReversal};

impl Perform for GetOverheadSpent {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let to = self.to.unwrap_or(desk.context.today);
        let from = self
            .from
            .or_else(|| NaiveDate::from_ymd_opt(to.year(), 1, 1))
            .unwrap_or(to);
        view(desk, in_order(from, to)?)
    }
}

impl Sets for SetOverheadSpent {
    fn set(&self, desk: &mut Desk<'_>) -> Done<View> {
        let (from, to) = in_order(self.from, self.to)?;
        // What reaches into open days is no closed period.
        settles(
            desk.context,
            to,
            "to",
            "enter it before the books are closed, or undo the closing",
        )?;
        match &self.amount {
            Some(text) => {
                let amount = desk.context.home_money("amount", text)?;
                let id = desk.tx.next_numbers(counter::RATE, 1)?;
                let row = OverheadSpent {
                    id,
                    from_date: from,
                    to_date: to,
                    amount: amount.get(),
                };
                desk.tx.save_overhead_spent(&row)?;
            }
            None if desk.tx.delete_overhead_spent(from, to)? => {}
            None => {
                let hint = "see ellwand workshop spent for the periods there are";
                return Err(not_found(format!("amount spent from {from} to {to}"), hint));
            }
        }
        save(desk, desk.context.workshop.clone(), "overhead spent")?;
        view(desk, (from, to))
    }
}

fn in_order(from: NaiveDate, to: NaiveDate) -> Done<(NaiveDate, NaiveDate)> {
    if from > to {
        let detail = format!("a period from {from} to {to} ends before it begins");
        let problem = Problem::new(ProblemType::InvalidDate, detail).field("from");
        return Err(problem
            .hint("give its first day with --from, its last with --to")
            .with("from", from.to_string())
            .with("to", to.to_string())
            .into());
    }
    Ok((from, to))
}

/// Minutes of a period, by what became of them.
#[derive(Default)]
struct Logged {
    all: i64,
    billable: i64,
    cancelled: i64,
    /// Billable minutes by the rate that held, oldest first.
    by_rate: Vec<(Option<OverheadRate>, i64)>,
}

impl Logged {
    fn read(tx: &mut Tx<'_>, (from, to): (NaiveDate, NaiveDate)) -> Done<Self> {
        let rates = tx.overhead_rates()?;
        let mut logged = Self::default();
        // In the order of their days, so that rates come oldest first.
        for work in tx.work_between(from, to)? {
            let add = |sum: &mut i64| *sum = sum.saturating_add(work.minutes);
            if work.cancelled {
                logged.cancelled = logged.cancelled.saturating_sub(work.minutes);
            }
            add(&mut logged.all);
            if !work.billable {
                continue;
            }
            add(&mut logged.billable);
            // Newest first: the first that has begun holds.
            let rate = rates
                .iter()
                .find(|rate| rate.from_date <= work.on_date)
                .cloned();
            match logged
                .by_rate
                .last_mut()
                .filter(|(known, _)| *known == rate)
            {
                Some((_, minutes)) => add(minutes),
                None => logged.by_rate.push((rate, work.minutes)),
            }
        }
        logged.by_rate.retain(|(_, minutes)| *minutes != 0);
        Ok(logged)
    }
}

/// Takes the overhead of minutes back, or gives it again: on the day of the work, or today where that lies in closed books, so
/// that no closed period changes. What is given again counts where it was taken back, while that is open.
pub(crate) fn reverse(
    desk: &mut Desk<'_>,
    work: &WorkEntry,
    sign: i64,
    cancelled: bool,
) -> Done<()> {
    let last = desk
        .tx
        .work_reversals(work.id)?
        .pop()
        .filter(|last| last.sign != sign);
    let day = last.map_or(work.on_date, |last| last.on_date);
    let on_date = if desk.context.is_open(day).is_ok() {
        day
    } else {
        desk.context.today
    };
    let id = desk.tx.next_numbers(counter::WORK, 1)?;
    desk.tx.insert_work_reversal(&WorkReversal {
        id,
        work_id: work.id,
        on_date,
        sign,
        cancelled,
    })?;
    Ok(())
}

/// Billable minutes of one rate, and what they carried.
struct Carried {
    from: Option<NaiveDate>,
    rate: HourlyCost,
    cost: CostItem,
}

impl Carried {
    /// Of each rate, printed under one total; that total.
    fn read(context: &Context<'_>, logged: &Logged) -> Done<(Vec<Self>, i64)> {
        let mut all = Vec::with_capacity(logged.by_rate.len());
        for (row, minutes) in &logged.by_rate {
            let rate = match row {
                Some(row) => {
                    HourlyCost::over(Millionths::new(row.amount)?, row.minutes).map_err(fault)?
                }
                None => HourlyCost::NONE,
            };
            all.push(Self {
                from: row.as_ref().map(|row| row.from_date),
                rate,
                cost: planned_overhead(*minutes, &rate).map_err(fault)?,
            });
        }
        let costs = all.iter_mut().map(|carried| &mut carried.cost);
        let total = CostItem::print(costs, context.currency.digits()).map_err(fault)?;
        Ok((all, total))
    }
}

fn view(desk: &mut Desk<'_>, (from, to): (NaiveDate, NaiveDate)) -> Done<View> {
    let logged = Logged::read(desk, (from, to))?;
    let kept = desk.tx.overhead_spent()?;
    let own = kept
        .iter()
        .find(|row| (row.from_date, row.to_date) == (from, to));
    let amount = own.map(|row| Millionths::new(row.amount)).transpose()?;
    let (carried, total) = Carried::read(desk.context, &logged)?;
    let rates = carried.iter().map(|own| (own.rate, own.cost.minutes()));
    let rates: Vec<_> = rates.collect();
    let period = PeriodOverhead::of(amount.unwrap_or(Millionths::ZERO), &rates).map_err(fault)?;
    let mut rates_applied = Vec::with_capacity(carried.len());
    for own in carried {
        rates_applied.push(RateApplied {
            from: own.from,
            minutes: own.cost.minutes(),
            per_hour: Micro(own.rate.of(60)?),
            applied: Micro(own.cost.value),
            printed: text(desk.context, own.cost.printed),
        });
    }
    let reached = reached(desk, (from, to), logged.billable)?;
    let notes = notes(desk.context, (from, to), &logged, reached.as_ref());
    let kept = kept.into_iter().map(|row| {
        Ok(KeptPeriod {
            from: row.from_date,
            to: row.to_date,
            amount: Micro(Millionths::new(row.amount)?),
        })
    });
    Ok(View {
        from,
        to,
        currency: desk.context.currency.code().to_owned(),
        logged_minutes: logged.all,
        billable_minutes: logged.billable,
        cancelled_minutes: logged.cancelled,
        rates: rates_applied,
        applied: Micro(period.applied()),
        applied_printed: text(desk.context, total),
        spent: amount
            .map(|amount| spent(desk.context, &period, amount, total))
            .transpose()?,
        reached,
        kept: kept.collect::<Done<_>>()?,
        notes,
    })
}

fn text(context: &Context<'_>, minor: i64) -> String {
    context.currency.money(minor).decimal()
}

/// What was spent beside what was carried; `carried` as it is printed.
fn spent(
    context: &Context<'_>,
    period: &PeriodOverhead,
    amount: Millionths,
    carried: i64,
) -> Done<Spent> {
    let printed = amount.minor(context.currency.digits());
    Ok(Spent {
        amount: Micro(amount),
        standing: period.standing(),
        difference: Micro(period.difference()?),
        difference_printed: text(context, printed.saturating_sub(carried)),
        rate_needed: match period.rate_needed() {
            Ok(rate) => Some(Micro(rate.of(60)?)),
            Err(CostError::ZeroBase { .. }) => None,
            Err(error) => return Err(fault(error)),
        },
    })
}

/// Billable minutes against the figures that count on the last day, as many days of their year as the period has.
fn reached(
    tx: &mut Tx<'_>,
    (from, to): (NaiveDate, NaiveDate),
    billable: i64,
) -> Done<Option<BillableReached>> {
    let Some(row) = tx.yearly_figures_on(to)? else {
        return Ok(None);
    };
    let rates = figures::rates(&row)?;
    let days = to.signed_duration_since(from).num_days().saturating_add(1);
    // The twelve months that end with the period: 365 days, or 366.
    let before = to.checked_sub_months(Months::new(12)).unwrap_or(from);
    let year = to.signed_duration_since(before).num_days();
    let worked = minutes_in_days(rates.worked, days, year).map_err(|_| too_long(from, to))?;
    let share = rates.figures.billable;
    Ok(Some(BillableReached {
        figures_from: row.from_date,
        days,
        worked_minutes: worked.get(),
        billable_minutes: exact::mul_div_floor(worked.get(), share.get(), PARTS_PER_MILLION)?,
        percent: share.decimal(),
        reached_percent: billable_share(billable, worked).map(|share| share.to_string()),
    }))
}

fn too_long(from: NaiveDate, to: NaiveDate) -> Failure {
    invalid(
        "from",
        format!("{from} to {to} is too long for one year's figures"),
    )
    .with("from", from.to_string())
    .with("to", to.to_string())
}

fn notes(
    context: &Context<'_>,
    (from, to): (NaiveDate, NaiveDate),
    logged: &Logged,
    reached: Option<&BillableReached>,
) -> Vec<String> {
    let mut notes = Vec::new();
    if to > context.today {
        notes.push(format!("so far: the period ends on {to}"));
    }
    if logged.billable == 0 {
        notes
            .push("no billable work is logged in the period, so it carries no overhead".to_owned());
    }
    if logged.by_rate.iter().any(|(rate, _)| rate.is_none()) {
        notes.push(
            "no overhead rate applied on some days: their work carries no overhead".to_owned(),
        );
    }
    if reached.is_some_and(|reached| reached.figures_from > from) {
        notes.push("the yearly figures of the last day are used for the whole period".to_owned());
    }
    notes
}

/// What was accepted once is refused by no arithmetic later.
fn fault(error: impl std::fmt::Display) -> Failure {
    Problem::new(ProblemType::Internal, error.to_string()).into()
}
