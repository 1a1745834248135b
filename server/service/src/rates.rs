//! What hours cost: the one place where pay rates are looked up.

use crate::failure::Done;
use chrono::NaiveDate;
use ellwand_contract::{Problem, ProblemType};
use ellwand_domain::{
    costing::{HourlyCost, PayRate},
    quantity::{HourlyRate, Millionths},
    setting::WorkKind,
};
use ellwand_storage::Tx;
use std::collections::HashMap;

/// Pay rates of the people that were asked for, each person read once.
#[derive(Default)]
pub(crate) struct Rates(HashMap<String, Vec<PayRate>>);

impl Rates {
    /// The rate that counts for a person's work of a kind on a day.
    pub(crate) fn on(
        &mut self,
        tx: &mut Tx<'_>,
        person: &str,
        kind: WorkKind,
        day: NaiveDate,
    ) -> Done<Option<PayRate>> {
        if !self.0.contains_key(person) {
            self.0.insert(person.to_owned(), of(tx, person)?);
        }
        let known = self.0.get(person).map_or(&[][..], Vec::as_slice);
        Ok(PayRate::counting(known, kind, day))
    }
}

/// The rate that counts for a person's work of a kind on a day, where only one is asked for.
pub(crate) fn pay_rate(
    tx: &mut Tx<'_>,
    person: &str,
    kind: WorkKind,
    day: NaiveDate,
) -> Done<Option<PayRate>> {
    Rates::default().on(tx, person, kind, day)
}

/// Whether the hours of a person are wages on a day by the rate for all their work.
pub(crate) fn is_paid(tx: &mut Tx<'_>, person: &str, day: NaiveDate) -> Done<bool> {
    let begun = tx.pay_rates_of(person)?.into_iter().find(|rate| rate.from_date <= day);
    Ok(begun.is_some_and(|rate| rate.paid))
}

/// All rates of a person.
fn of(tx: &mut Tx<'_>, person: &str) -> Done<Vec<PayRate>> {
    let mut rates = Vec::new();
    for rate in tx.pay_rates_of(person)? {
        let per_hour = HourlyRate::new(rate.per_hour)?;
        rates.push(PayRate { kind: None, paid: rate.paid, per_hour, from: rate.from_date });
    }
    for rate in tx.kind_pay_rates_of(person)? {
        let per_hour = HourlyRate::new(rate.per_hour)?;
        rates.push(PayRate { kind: Some(rate.kind.0), paid: rate.paid, per_hour, from: rate.from_date });
    }
    Ok(rates)
}

/// The overhead on a billable hour of a day; none where no rate holds.
pub(crate) fn overhead(tx: &mut Tx<'_>, day: NaiveDate) -> Done<Option<HourlyCost>> {
    let Some(row) = tx.overhead_rate_on(day)? else { return Ok(None) };
    let rate = HourlyCost::over(Millionths::new(row.amount)?, row.minutes);
    Ok(Some(rate.map_err(|error| Problem::new(ProblemType::Internal, error.to_string()))?))
}
