//! What hours cost: the one place where pay rates are looked up.

use crate::{failure::Done, figures};
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    costing::{HourlyCost, PayRate},
    quantity::{HourlyRate, Millionths},
    setting::WorkKind,
};
use ellwand_storage::{Person, Tx};
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
            kind: Some(rate.kind.0),
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
    Ok(Some(rate.map_err(|error| {
        Problem::new(ProblemType::Internal, error.to_string())
    })?))
}
