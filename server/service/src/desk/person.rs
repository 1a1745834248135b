//! People: found by the name that was typed, made by use.

use crate::desk::{
    caller::Caller,
    context::Context,
    counter,
    failure::{Done, Failure, invalid, not_found},
};
use chrono::{DateTime, Utc};
use ellwand_contract::{
    Problem, ProblemType,
    text::{clean_name, nearest},
};
use ellwand_domain::person::{composed, is_same, look_alike_key};
use ellwand_storage::{Person, Tx};
use std::collections::HashMap;

/// The owner's name among the people.
pub(crate) const OWNER: &str = "owner";

/// The person of a name, whatever its capitals; refused for one that only looks like somebody's.
pub(crate) fn find(tx: &mut Tx<'_>, field: &str, text: &str) -> Done<Option<Person>> {
    let name = composed(&clean_name(field, text)?);
    let Some(known) = tx.person_alike(&name, &look_alike_key(&name))? else {
        return Ok(None);
    };
    if is_same(&known.name, &name) {
        return Ok(Some(known));
    }
    let detail = format!(
        "\"{name}\" looks like {}, who is someone else here",
        known.name
    );
    Err(Problem::new(ProblemType::AlreadyExists, detail)
        .field(field)
        .hint("choose a name that cannot be mistaken for it; see ellwand person list")
        .into())
}

/// The person of a name; refused, with the nearest name, when there is none.
pub(crate) fn find_by_name(tx: &mut Tx<'_>, field: &str, text: &str) -> Done<Person> {
    if let Some(known) = find(tx, field, text)? {
        return Ok(known);
    }
    let name = clean_name(field, text)?;
    let names: Vec<String> = tx.people()?.into_iter().map(|person| person.name).collect();
    let made = "add someone new with ellwand person set NAME --own, or --paid";
    let hint = match nearest(&name, &names) {
        Some(near) => format!("did you mean {near}? {made}"),
        None => made.to_owned(),
    };
    Err(
        match not_found(format!("person called \"{name}\""), &hint) {
            Failure::Refused(problem) => problem.field(field).into(),
            stopped @ Failure::Storage(_) => stopped,
        },
    )
}

/// The person of a name; a new name makes one, own or paid.
pub(crate) fn find_or_make(
    tx: &mut Tx<'_>,
    field: &str,
    text: &str,
    paid: bool,
    (by, now): (&str, DateTime<Utc>),
) -> Done<Person> {
    if let Some(known) = find(tx, field, text)? {
        return Ok(known);
    }
    let name = composed(&clean_name(field, text)?);
    let person = |id: i64, name: String, paid: bool| Person {
        id,
        skeleton: look_alike_key(&name),
        name,
        paid,
        made_at: now.naive_utc(),
        made_by: by.to_owned(),
    };
    let mut id = tx.next_numbers(counter::PERSON, 1)?;
    if id == Person::OWNER {
        let owner = person(id, OWNER.to_owned(), false);
        tx.insert_person(&owner)?;
        if is_same(&name, OWNER) {
            return Ok(owner);
        }
        id = tx.next_numbers(counter::PERSON, 1)?;
    }
    let made = person(id, name, paid);
    tx.insert_person(&made)?;
    Ok(made)
}

/// Refuses to make the owner a paid person.
pub(crate) fn owner_is_own(field: &str) -> Failure {
    invalid(
        field,
        "the owner is never paid wages: the owner's hours are own hours",
    )
}

impl Context<'_> {
    /// By whom and when a row is made.
    pub(crate) fn made(&self) -> (&str, DateTime<Utc>) {
        (&self.caller.name, self.now)
    }
}

impl Caller {
    /// The same under the name that the book has for them, once it has one.
    pub(crate) fn known(self, tx: &mut Tx<'_>) -> Done<Self> {
        if self.person.is_some() {
            return Ok(self);
        }
        let row = find(tx, "name", &self.name)?;
        Ok(match row {
            Some(row) => Self {
                name: row.name,
                person: Some(row.id),
                ..self
            },
            None => self,
        })
    }
}

/// PeopleNames of people, read once.
pub(crate) struct PeopleNames(HashMap<i64, String>);

impl PeopleNames {
    pub(crate) fn of(tx: &mut Tx<'_>) -> Done<Self> {
        Ok(Self(
            tx.people()?
                .into_iter()
                .map(|person| (person.id, person.name))
                .collect(),
        ))
    }

    pub(crate) fn name(&self, person: i64) -> String {
        self.0.get(&person).cloned().unwrap_or_default()
    }
}
