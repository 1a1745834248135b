//! People: who works, and whose hours are paid.

use crate::{
    desk::{
        Desk,
        failure::{Done, Failure},
        perform::Perform,
        person::{OWNER, find_by_name, find_or_make, owner_is_own},
    },
    workshop::{self, FinalCosts, Sets, pay},
};
use chrono::{DateTime, Utc};
use ellwand_contract::{
    people::{GetPerson, ListPeople, People, Person as View, SetPerson},
    workshop::PayRate,
};
use ellwand_domain::{costing::BEGINNING, person::is_same};
use ellwand_storage::Person;

impl Perform for ListPeople {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<People, Failure> {
        let rates = pay::view(desk)?;
        let mut people: Vec<View> = desk
            .tx
            .people()?
            .into_iter()
            .map(|person| view(person, &rates))
            .collect();
        people.sort_by_key(|person| person.person.to_lowercase());
        Ok(People { people })
    }
}

impl Perform for GetPerson {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<View, Failure> {
        let person = find_by_name(desk, "person", &self.person)?;
        Ok(view(person, &pay::view(desk)?))
    }
}

impl Sets for SetPerson {
    fn set(&self, desk: &mut Desk<'_>) -> Done<View> {
        if self.paid && is_same(self.person.trim(), OWNER) {
            return Err(owner_is_own("paid"));
        }
        let mut person = find_or_make(
            &mut desk.tx,
            "person",
            &self.person,
            self.paid,
            desk.context.made(),
        )?;
        if person.paid != self.paid {
            let before = FinalCosts::read(desk, BEGINNING)?;
            desk.tx.mark_person(person.id, self.paid)?;
            before.unchanged(desk, self.really)?;
            person.paid = self.paid;
        }
        let mark = if person.paid { "paid" } else { "own" };
        workshop::save(
            desk,
            desk.context.workshop.clone(),
            &format!("mark of {} as {mark}", person.name),
        )?;
        Ok(view(person, &pay::view(desk)?))
    }
}

fn view(person: Person, rates: &[PayRate]) -> View {
    let pay_rates = rates
        .iter()
        .filter(|rate| rate.person == person.name)
        .cloned()
        .collect();
    View {
        person: person.name,
        paid: person.paid,
        made_at: DateTime::from_naive_utc_and_offset(person.made_at, Utc),
        made_by: person.made_by,
        pay_rates,
        rates_shown: true,
    }
}
