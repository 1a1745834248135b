//! What hours cost: the one place where pay rates are looked up.

use crate::{desk::failure::Done, money::figures};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    costing::{CostError, HourlyCost, PayRate, PriceGroup},
    quantity::{HourlyRate, Millionths},
    setting::WorkKind,
};
use ellwand_storage::{Person, Tx, WorkEntry};
use std::collections::{HashMap, hash_map::Entry};

/// Pay rates of the people that were asked for, each person read once.
#[derive(Default)]
pub(crate) struct Rates {
    people: HashMap<i64, Person>,
    rates: HashMap<i64, Vec<PayRate>>,
}

impl Rates {
    /// The rate that counts for a person's work of a kind on a day: their own, else for own hours the owner's.
    pub(crate) fn on(
        &mut self,
        tx: &mut Tx<'_>,
        person: i64,
        kind: WorkKind,
        day: NaiveDate,
    ) -> Done<Option<PayRate>> {
        let paid = self.is_paid(tx, person)?;
        let theirs = PayRate::counting(self.of(tx, person, paid)?, kind, day);
        if theirs.is_some() || paid || person == Person::OWNER {
            return Ok(theirs);
        }
        Ok(PayRate::counting(
            self.of(tx, Person::OWNER, false)?,
            kind,
            day,
        ))
    }

    /// Whether a person's hours are wages.
    pub(crate) fn is_paid(&mut self, tx: &mut Tx<'_>, person: i64) -> Done<bool> {
        Ok(self.person(tx, person)?.paid)
    }

    /// A person's name.
    pub(crate) fn name(&mut self, tx: &mut Tx<'_>, person: i64) -> Done<&str> {
        Ok(&self.person(tx, person)?.name)
    }

    fn person(&mut self, tx: &mut Tx<'_>, id: i64) -> Done<&Person> {
        if self.people.is_empty() {
            self.people = tx
                .people()?
                .into_iter()
                .map(|person| (person.id, person))
                .collect();
        }
        let missing = || Problem::new(ProblemType::Internal, format!("there is no person {id}"));
        Ok(self.people.get(&id).ok_or_else(missing)?)
    }

    /// All rates of a person.
    fn of(&mut self, tx: &mut Tx<'_>, person: i64, paid: bool) -> Done<&[PayRate]> {
        Ok(match self.rates.entry(person) {
            Entry::Occupied(known) => known.into_mut(),
            Entry::Vacant(new) => new.insert(read_rates(tx, person, paid)?),
        })
    }
}

fn read_rates(tx: &mut Tx<'_>, person: i64, paid: bool) -> Done<Vec<PayRate>> {
    let mut rates = Vec::new();
    for rate in tx.pay_rates_of(person)? {
        let per_hour = HourlyRate::new(rate.per_hour)?;
        rates.push(PayRate {
            kind: None,
            paid,
            per_hour,
            from: rate.from_date,
        });
    }
    for rate in tx.kind_pay_rates_of(person)? {
        let per_hour = HourlyRate::new(rate.per_hour)?;
        rates.push(PayRate {
            kind: Some(rate.kind),
            paid,
            per_hour,
            from: rate.from_date,
        });
    }
    Ok(rates)
}

/// What an own hour costs by the year's figures of a day; none where there are none.
pub(crate) fn by_figures(tx: &mut Tx<'_>, day: NaiveDate) -> Done<Option<HourlyCost>> {
    match tx.yearly_figures_on(day)? {
        Some(row) => Ok(Some(figures::rates(&row)?.labour)),
        None => Ok(None),
    }
}

/// The overhead on a billable hour of a day; none where no rate holds.
pub(crate) fn overhead(tx: &mut Tx<'_>, day: NaiveDate) -> Done<Option<HourlyCost>> {
    let Some(row) = tx.overhead_rate_on(day)? else {
        return Ok(None);
    };
    let rate = HourlyCost::over(Millionths::new(row.amount)?, row.minutes);
    Ok(Some(rate.map_err(internal)?))
}

fn internal(error: CostError) -> Problem {
    Problem::new(ProblemType::Internal, error.to_string())
}

/// Whose minutes they are, and what an hour costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hour {
    Own(HourlyCost),
    /// Own hours that have no price.
    Free,
    Paid(i64),
    Unknown,
}

impl Hour {
    pub(crate) const fn group(&self) -> PriceGroup {
        match self {
            Self::Paid(_) | Self::Unknown => PriceGroup::PaidLabour,
            Self::Own(_) | Self::Free => PriceGroup::OwnLabour,
        }
    }

    /// What an hour costs; none where it has no price.
    pub(crate) fn rate(&self) -> Done<Option<HourlyCost>> {
        Ok(match self {
            Self::Own(rate) => Some(*rate),
            Self::Paid(rate) => Some(HourlyCost::per_hour(*rate).map_err(internal)?),
            Self::Free | Self::Unknown => None,
        })
    }

    /// The rate as people read it; none where the hour has no price.
    pub(crate) fn per_hour(&self) -> Option<String> {
        match self {
            Self::Own(rate) => rate.of(60).ok().map(|value| value.decimal()),
            Self::Paid(rate) => HourlyRate::new(*rate).ok().map(|rate| rate.decimal()),
            Self::Free | Self::Unknown => None,
        }
    }
}

/// The rate of a person at a kind of work on a day; own hours by the year's figures first, or by the pay rate first. A rate
/// that names the kind of work goes before the figures in any case.
pub(crate) fn hour(
    tx: &mut Tx<'_>,
    rates: &mut Rates,
    (person, kind): (i64, WorkKind),
    day: NaiveDate,
    figures_first: bool,
) -> Done<Hour> {
    let rate = rates.on(tx, person, kind, day)?;
    match &rate {
        Some(rate) if rate.paid => return Ok(Hour::Paid(rate.per_hour.get())),
        None if rates.is_paid(tx, person)? => return Ok(Hour::Unknown),
        _ => {}
    }
    let figures_first = figures_first && rate.is_none_or(|rate| rate.kind.is_none());
    let own = rate
        .map(|rate| HourlyCost::per_hour(rate.per_hour.get()))
        .transpose()
        .map_err(internal)?;
    let year = by_figures(tx, day)?;
    let hour = if figures_first {
        year.or(own)
    } else {
        own.or(year)
    };
    Ok(hour.map_or(Hour::Free, Hour::Own))
}

/// What minutes cost at the rates of their day, overhead with it; nothing where they are not billable, none where no pay is
/// known.
pub(crate) fn cost_of(
    tx: &mut Tx<'_>,
    rates: &mut Rates,
    entry: &WorkEntry,
) -> Done<Option<Millionths>> {
    if !entry.billable {
        return Ok(Some(Millionths::ZERO));
    }
    let hour = hour(
        tx,
        rates,
        (entry.person_id, entry.kind),
        entry.on_date,
        false,
    )?;
    let Some(rate) = hour.rate()? else {
        return Ok(None);
    };
    let overhead = overhead(tx, entry.on_date)?.unwrap_or(HourlyCost::NONE);
    Ok(Some(
        rate.of(entry.minutes)?.plus(overhead.of(entry.minutes)?)?,
    ))
}
