//! What hours of people cost.

use super::{FinalCosts, Sets, change, costs_from, counts_from, since};
use crate::desk::{
    Desk, counter,
    failure::{Done, Failure, invalid, not_found},
    person::{self, OWNER},
};
use chrono::NaiveDate;
use ellwand_contract::{
    Problem,
    workshop::{PayRate, SetPayRate, Workshop},
};
use ellwand_domain::{
    costing::BEGINNING, person::is_same, quantity::HourlyRate, setting::WorkKind,
};
use ellwand_storage::{KindPayRate, Person, Tx};
use std::collections::HashMap;

impl Sets for SetPayRate {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Workshop> {
        // A mark as paid counts for all hours, and what is forgotten without a day may have counted from the beginning.
        let all = self.paid || (self.per_hour.is_none() && self.from.is_none());
        let before_all = all.then(|| FinalCosts::read(desk, BEGINNING)).transpose()?;
        let person = self.person(desk)?;
        let first = desk.tx.pay_rates_of(person.id)?.is_empty()
            && (self.kind.is_none() || desk.tx.kind_pay_rates_of(person.id)?.is_empty());
        let from = counts_from(desk.context, self.from, first);
        let what = match self.kind {
            Some(kind) => format!("pay rate of {} for {kind} work", person.name),
            None => format!("pay rate of {}", person.name),
        };
        let before = before_all.map_or_else(|| FinalCosts::read(desk, from), Ok)?;
        let Some(text) = &self.per_hour else {
            forget(desk, &person, self.kind, self.from)?;
            before.unchanged(desk, self.really)?;
            return change(desk, desk.context.workshop.clone(), &what);
        };
        let per_hour: HourlyRate = text
            .parse()
            .map_err(|error| invalid("per_hour", format!("{error}")))?;
        costs_from(desk.context, from)?;
        let (id, per_hour, from_date) = (
            desk.tx.next_numbers(counter::RATE, 1)?,
            per_hour.get(),
            from,
        );
        let person_id = person.id;
        match self.kind {
            Some(kind) => {
                desk.tx.save_kind_pay_rate(&KindPayRate {
                    id,
                    person_id,
                    kind,
                    per_hour,
                    from_date,
                })?;
            }
            None => desk.tx.save_pay_rate(&ellwand_storage::PayRate {
                id,
                person_id,
                per_hour,
                from_date,
            })?,
        }
        before.unchanged(desk, self.really)?;
        change(desk, desk.context.workshop.clone(), &what)
    }
}

trait Of {
    fn person(&self, desk: &mut Desk<'_>) -> Done<Person>;
}

impl Of for SetPayRate {
    /// Whose rate it is. A new name makes a person, but not for a rate that is to be forgotten.
    fn person(&self, desk: &mut Desk<'_>) -> Done<Person> {
        if self.per_hour.is_none() {
            return person::find_by_name(desk, "person", &self.person);
        }
        if self.paid && is_same(&self.person, OWNER) {
            return Err(person::owner_is_own("paid"));
        }
        let mut person = person::find_or_make(
            &mut desk.tx,
            "person",
            &self.person,
            self.paid,
            desk.context.made(),
        )?;
        if self.paid && !person.paid {
            desk.tx.mark_person(person.id, true)?;
            person.paid = true;
        }
        Ok(person)
    }
}

/// Takes out the rate that counts from just this day; where no day is named, from today or else from the beginning.
fn forget(
    desk: &mut Desk<'_>,
    person: &Person,
    kind: Option<WorkKind>,
    from: Option<NaiveDate>,
) -> Done<()> {
    let mut delete = |from: NaiveDate| match kind {
        Some(kind) => desk.tx.delete_kind_pay_rate(person.id, kind, from),
        None => desk.tx.delete_pay_rate(person.id, from),
    };
    let (mut from, is_given) = (from.unwrap_or(desk.context.today), from.is_some());
    let mut gone = delete(from)?;
    if !gone && !is_given && delete(BEGINNING)? {
        (from, gone) = (BEGINNING, true);
    }
    if !gone {
        let of = kind.map_or_else(
            || person.name.clone(),
            |kind| format!("{} for {kind} work", person.name),
        );
        let mut days = Vec::new();
        match kind {
            Some(kind) => {
                let all = desk.tx.kind_pay_rates_of(person.id)?;
                days.extend(
                    all.into_iter()
                        .filter(|rate| rate.kind == kind)
                        .map(|rate| rate.from_date),
                );
            }
            None => days.extend(
                desk.tx
                    .pay_rates_of(person.id)?
                    .into_iter()
                    .map(|rate| rate.from_date),
            ),
        }
        let days: Vec<String> = days.into_iter().map(since).collect();
        let hint = match days.is_empty() {
            true => "see ellwand workshop for the rates there are".to_owned(),
            false => format!("choose the day it counts from: {}", days.join(", ")),
        };
        return Err(not_found(
            format!("pay rate of {of} from {} on", since(from)),
            &hint,
        ));
    }
    desk.context.is_open(from).map_err(|failure| match failure {
        Failure::Refused(problem) => {
            let hint =
                "the hours of closed books keep their rates; set another one from a later day on";
            Problem::hint(problem.field("from"), hint).into()
        }
        stopped @ Failure::Storage(_) => stopped,
    })
}

/// Rates as they are shown, newest first; of one day by name, the rate for all work before those for kinds of it.
pub(crate) fn view(tx: &mut Tx<'_>) -> Done<Vec<PayRate>> {
    let mut all = Vec::new();
    let people: HashMap<i64, Person> = tx
        .people()?
        .into_iter()
        .map(|person| (person.id, person))
        .collect();
    let of = |id: i64| {
        people.get(&id).map_or_else(Default::default, |person| {
            (person.name.clone(), person.paid)
        })
    };
    for rate in tx.pay_rates()? {
        let per_hour = HourlyRate::new(rate.per_hour)?.decimal();
        let ((person, paid), from) = (of(rate.person_id), rate.from_date);
        all.push(PayRate {
            person,
            kind: None,
            paid,
            per_hour,
            from,
        });
    }
    for rate in tx.kind_pay_rates()? {
        let per_hour = HourlyRate::new(rate.per_hour)?.decimal();
        let ((person, paid), from) = (of(rate.person_id), rate.from_date);
        all.push(PayRate {
            person,
            kind: Some(rate.kind),
            paid,
            per_hour,
            from,
        });
    }
    all.sort_by(|one, other| {
        let order = other
            .from
            .cmp(&one.from)
            .then_with(|| one.person.cmp(&other.person));
        order.then_with(|| one.kind.cmp(&other.kind))
    });
    Ok(all)
}
