//! What a month brought.

mod goods;
mod level;
mod made;
mod sold;

pub(crate) use goods::{Totals, fault, net, stock_at_end_of};

use crate::{
    desk::{
        Desk,
        context::Context,
        failure::{Done, Failure, invalid},
        perform::Perform,
        person::PeopleNames,
    },
    ledger::month::goods::Goods,
};
use ellwand_contract::{
    Problem, ProblemType,
    month::{GetMonth, Month, MonthHours},
};
use ellwand_domain::month::Period;
use ellwand_storage::Tx;

impl Perform for GetMonth {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<Month, Failure> {
        let period = period(self, desk.context)?;
        let goods = Goods::read(desk, period)?;
        let made = made::Made::read(desk, period)?;
        let mut notes = Vec::new();
        let so_far = period.last > desk.context.today;
        if so_far {
            notes.push(format!("so far: the period ends on {}", period.last));
        }
        notes.extend(not_sure(desk, period)?);
        Ok(Month {
            from: period.first,
            to: period.last,
            so_far,
            currency: desk.context.currency.code().to_owned(),
            shelf_value: Some(goods.shelf_value()?),
            late_charges: Some(goods.late_charges()?),
            in_garments: Some(goods.in_garments()?),
            goods: goods.rows()?,
            garments: made.garments,
            money: Some(sold::money(desk, period)?),
            hours: hours(desk, period)?,
            hour_earned: made.hour_earned,
            below_least: level::below(desk, period)?,
            notes,
        })
    }
}

/// What of the stock value is missing or estimated.
fn not_sure(tx: &mut Tx<'_>, period: Period) -> Done<Option<String>> {
    let (unpriced, estimated) = tx.lots_without_sure_value(period.last)?;
    let count = |number: i64, says: &str, say: &str| match number {
        0 => None,
        1 => Some(format!("1 lot that is still here {says}")),
        more => Some(format!("{more} lots that are still here {say}")),
    };
    let parts = [
        count(
            unpriced,
            "has no price and counts as nothing",
            "have no price and count as nothing",
        ),
        count(
            estimated,
            "is valued by an estimate",
            "are valued by estimates",
        ),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    Ok((!parts.is_empty()).then(|| parts.join("; ")))
}

/// What is asked for; the current month where nothing is said.
fn period(request: &GetMonth, context: &Context<'_>) -> Done<Period> {
    if let Some(month) = &request.month {
        if request.from.is_some() || request.to.is_some() {
            let problem = Problem::from(invalid("month", "a month and days are two periods"));
            return Err(problem
                .hint("ellwand month 2026-11, or ellwand month --from 2026-11-01 --to 2026-11-30")
                .into());
        }
        return month
            .parse()
            .map_err(|error: ellwand_domain::month::PeriodError| {
                invalid("month", error.to_string())
            });
    }
    let Some(first) = request.from else {
        if request.to.is_some() {
            let problem = Problem::from(invalid("from", "a period needs its first day"));
            return Err(problem.hint("add --from 2026-11-01").into());
        }
        return Ok(Period::month_of(context.today));
    };
    let last = request.to.unwrap_or(context.today);
    if last < first {
        let detail = format!("a period from {first} to {last} ends before it begins");
        let problem = Problem::new(ProblemType::InvalidDate, detail).field("from");
        return Err(problem
            .hint("give its first day with --from, its last with --to")
            .with("from", first.to_string())
            .with("to", last.to_string())
            .into());
    }
    Ok(Period { first, last })
}

/// Minutes by person and kind of work, in the order of the names.
fn hours(tx: &mut Tx<'_>, period: Period) -> Done<Vec<MonthHours>> {
    let names = PeopleNames::of(tx)?;
    let mut rows: Vec<MonthHours> = Vec::new();
    for work in tx.worked_between(period.first, period.last)? {
        let (person, billable) = (
            names.name(work.person),
            if work.billable { work.minutes } else { 0 },
        );
        match rows
            .iter_mut()
            .find(|row| row.person == person && row.kind == work.kind)
        {
            Some(row) => {
                row.minutes = row.minutes.saturating_add(work.minutes);
                row.billable_minutes = row.billable_minutes.saturating_add(billable);
            }
            None => rows.push(MonthHours {
                person,
                kind: work.kind,
                minutes: work.minutes,
                billable_minutes: billable,
            }),
        }
    }
    rows.sort_by_key(|row| (row.person.to_lowercase(), row.kind));
    Ok(rows)
}
