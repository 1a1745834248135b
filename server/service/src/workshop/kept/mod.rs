//! What the settings, rates and usual operations say, part by part: an act that changes some of it is booked, and its undo puts
//! back what was there.

mod back;
mod part;

use super::fault;
use crate::desk::{
    Desk, Entry,
    failure::{Done, Failure},
    perform::Perform,
    trace::Traced,
};
pub(crate) use back::{may_go_back, put_back};
use ellwand_contract::{Act, json};
use ellwand_domain::setting::{BookingKind, Facet};
use ellwand_storage::{Tx, Workshop};
pub(crate) use part::Part;
use serde::Serialize;
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};

/// Columns of the settings that no act sets by itself.
const NOT_SET: [&str; 8] = [
    "id",
    "currency_fixed",
    "pooled_method_fixed",
    "closed_to",
    "version",
    "changed_by",
    "changed_at",
    "changed_what",
];

/// An act that sets something of it, and is booked where that is other than it was.
pub(crate) trait Sets: Act {
    fn set(&self, desk: &mut Desk<'_>) -> Done<Self::Answer>;
}

impl<A: Sets> Perform for A {
    fn perform(&self, desk: &mut Desk<'_>) -> Result<A::Answer, Failure> {
        let before = read(desk)?;
        let answer = self.set(desk)?;
        book(desk, &before)?;
        Ok(answer)
    }
}

/// All that can be set, as JSON of its row.
type Kept = BTreeMap<Part, Value>;

/// Books what is other than it was.
fn book(desk: &mut Desk<'_>, before: &Kept) -> Done<()> {
    let after = read(desk)?;
    let (mut set, mut removed, mut traces) = (Vec::new(), Vec::new(), Vec::new());
    let mut new = Vec::new();
    let parts: BTreeSet<&Part> = before.keys().chain(after.keys()).collect();
    for part in parts {
        let was = before.get(part);
        if was == after.get(part) {
            continue;
        }
        if let (Part::Person(id), None) = (part, was) {
            new.push((
                *id,
                Traced::wrote(Facet::Setting, 0, &was)?.part(part.text()?),
            ));
            continue;
        }
        match after.contains_key(part) {
            true => set.push(part.label(desk)?),
            false => removed.push(part.label(desk)?),
        }
        traces.push(Traced::wrote(Facet::Setting, 0, &was)?.part(part.text()?));
    }
    if traces.is_empty() {
        return named(desk, new);
    }
    let sentence = |verb: &str, labels: &[String]| match labels.is_empty() {
        true => String::new(),
        false => format!("{verb} the {}.", labels.join(", the ")),
    };
    let summary = format!(
        "{} {}",
        sentence("Set", &set),
        sentence("Removed", &removed)
    );
    write(desk, summary.trim(), traces)
}

/// Books that someone was named where nothing else was set: whoever is named for a rate goes with the rate.
fn named(desk: &mut Desk<'_>, new: Vec<(i64, Traced)>) -> Done<()> {
    // The owner comes with the first of them.
    let Some((id, _)) = new.last() else {
        return Ok(());
    };
    let name = desk.tx.person(*id)?.map(|row| row.name);
    let summary = format!("Named {}.", name.unwrap_or_default());
    let traces = new.into_iter().map(|(_, trace)| trace).collect();
    write(desk, &summary, traces)
}

fn write(desk: &mut Desk<'_>, summary: &str, traces: Vec<Traced>) -> Done<()> {
    let mut entry = Entry::new(BookingKind::Set, desk.context.today, summary);
    entry.traces = traces;
    let booking = desk.next_booking()?;
    desk.book(booking, entry)
}

fn read(desk: &mut Desk<'_>) -> Done<Kept> {
    // Before the first of them is set there is no row yet.
    let workshop = desk.tx.workshop()?;
    let workshop = workshop.as_ref().unwrap_or(&desk.context.workshop);
    let mut columns = columns(workshop)?;
    columns.retain(|name, _| !NOT_SET.contains(&name.as_str()));
    let columns = columns.into_iter();
    let mut kept: Kept = columns
        .map(|(name, value)| (Part::Column(name), value))
        .collect();
    rates(desk, &mut |part, row| drop(kept.insert(part, row)))?;
    Ok(kept)
}

/// Hands on all that counts from a day or has a name of its own.
fn rates(tx: &mut Tx<'_>, keep: &mut dyn FnMut(Part, Value)) -> Done<()> {
    for row in tx.people()? {
        keep(Part::Person(row.id), Value::Bool(row.paid));
    }
    for row in tx.pay_rates()? {
        let part = Part::PayRate(row.person_id, None, row.from_date);
        keep(part, tree(&row)?);
    }
    for row in tx.kind_pay_rates()? {
        let part = Part::PayRate(row.person_id, Some(row.kind), row.from_date);
        keep(part, tree(&row)?);
    }
    for row in tx.overhead_rates()? {
        keep(Part::Overhead(row.from_date), tree(&row)?);
    }
    for row in tx.yearly_figures()? {
        keep(Part::Figures(row.from_date), tree(&row)?);
    }
    for row in tx.overhead_spent()? {
        keep(Part::Spent(row.from_date, row.to_date), tree(&row)?);
    }
    for row in tx.tax_rates()? {
        keep(Part::Tax(row.name.clone()), tree(&row)?);
    }
    for row in tx.tax_reclaims()? {
        keep(Part::Reclaim(row.from_date), tree(&row)?);
    }
    for row in tx.usual_operations()? {
        keep(Part::Operation(row.name.to_lowercase()), tree(&row)?);
    }
    Ok(())
}

fn tree(row: &impl Serialize) -> Done<Value> {
    json::tree(row).map_err(fault)
}

fn columns(workshop: &Workshop) -> Done<Map<String, Value>> {
    let text = json::write(workshop).map_err(fault)?;
    json::read(&text).map_err(fault)
}

/// Names of the settings that differ.
pub(super) fn differing(before: &Workshop, after: &Workshop) -> Done<String> {
    let (before, mut after) = (columns(before)?, columns(after)?);
    after.retain(|name, value| before.get(name) != Some(value));
    let names: Vec<String> = after.keys().map(|name| part::label(name)).collect();
    Ok(names.join(", "))
}
