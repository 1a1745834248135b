//! What hours of people cost.

use super::{OWNER, change, costs_from};
use crate::{
    context::{Context, counter},
    failure::{Done, Failure, invalid, not_found},
    perform::Perform,
    rates,
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem,
    workshop::{PayRate, SetPayRate, Workshop},
};
use ellwand_domain::{quantity::HourlyRate, setting::WorkKind};
use ellwand_storage::{KindPayRate, Tx, Word};

impl Perform for SetPayRate {
    fn perform(&self, tx: &mut Tx<'_>, context: &Context<'_>) -> Result<Workshop, Failure> {
        let person = crate::parties::clean_name("person", &self.person)?;
        if self.paid && person == OWNER {
            return Err(invalid("paid", "the owner's hours are never wages, so they are not paid ones"));
        }
        let from = self.from.unwrap_or(context.today);
        let what = match self.kind {
            Some(kind) => format!("pay rate of {person} for {kind} work"),
            None => format!("pay rate of {person}"),
        };
        let Some(text) = &self.per_hour else {
            forget(tx, context, &person, self.kind, from)?;
            return change(tx, context, context.workshop.clone(), &what);
        };
        let per_hour: HourlyRate = text.parse().map_err(|error| invalid("per_hour", format!("{error}")))?;
        costs_from(context, from)?;
        let (id, per_hour, from_date) = (tx.next_numbers(counter::RATE, 1)?, per_hour.get(), from);
        match self.kind {
            Some(kind) => {
                let paid = self.paid || rates::is_paid(tx, &person, from)?;
                let kind = Word(kind);
                tx.save_kind_pay_rate(&KindPayRate { id, person, kind, paid, per_hour, from_date })?;
            }
            None => {
                let paid = self.paid;
                tx.save_pay_rate(&ellwand_storage::PayRate { id, person, paid, per_hour, from_date })?;
            }
        }
        change(tx, context, context.workshop.clone(), &what)
    }
}

/// Takes out the rate that counts from just this day.
fn forget(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    person: &str,
    kind: Option<WorkKind>,
    from: NaiveDate,
) -> Done<()> {
    let gone = match kind {
        Some(kind) => tx.delete_kind_pay_rate(person, kind, from)?,
        None => tx.delete_pay_rate(person, from)?,
    };
    if !gone {
        let of = kind.map_or_else(|| person.to_owned(), |kind| format!("{person} for {kind} work"));
        let mut days = Vec::new();
        match kind {
            Some(kind) => {
                let all = tx.kind_pay_rates_of(person)?;
                days.extend(all.into_iter().filter(|rate| rate.kind.0 == kind).map(|rate| rate.from_date));
            }
            None => days.extend(tx.pay_rates_of(person)?.into_iter().map(|rate| rate.from_date)),
        }
        let days: Vec<String> = days.iter().map(ToString::to_string).collect();
        let hint = match days.is_empty() {
            true => "see ellwand workshop for the rates there are".to_owned(),
            false => format!("name the day from which it counts: {}", days.join(", ")),
        };
        return Err(not_found(format!("pay rate of {of} from {from} on"), &hint));
    }
    context.is_open(from).map_err(|failure| match failure {
        Failure::Refused(problem) => {
            let hint = "the hours of closed books keep their rates; set another one from a later day on";
            Problem::hint(problem.field("from"), hint).into()
        }
        stopped @ Failure::Storage(_) => stopped,
    })
}

/// Rates as they are shown, newest first; of one day by name, the rate for all work before those for kinds of it.
pub(super) fn view(tx: &mut Tx<'_>) -> Done<Vec<PayRate>> {
    let mut all = Vec::new();
    for rate in tx.pay_rates()? {
        let per_hour = HourlyRate::new(rate.per_hour)?.decimal();
        let (person, from) = (rate.person, rate.from_date);
        all.push(PayRate { person, kind: None, paid: rate.paid, per_hour, from });
    }
    for rate in tx.kind_pay_rates()? {
        let per_hour = HourlyRate::new(rate.per_hour)?.decimal();
        let (person, from) = (rate.person, rate.from_date);
        all.push(PayRate { person, kind: Some(rate.kind.0), paid: rate.paid, per_hour, from });
    }
    all.sort_by(|one, other| {
        let order = other.from.cmp(&one.from).then_with(|| one.person.cmp(&other.person));
        order.then_with(|| one.kind.cmp(&other.kind))
    });
    Ok(all)
}
