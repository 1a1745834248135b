//! What the settings, rates and usual operations say, part by part: an act that changes some of it is booked, and its undo puts
//! back what was there.

mod part;

use super::{FinalCosts, fault};
use crate::{
    desk::{
        Desk, Entry,
        failure::{Done, Failure},
        perform::Perform,
        trace::{self, Traced},
    },
    ledger::undo::cannot,
};
use ellwand_contract::{Act, json};
use ellwand_domain::{
    code::BookingCode,
    setting::{BookingKind, Facet},
};
use ellwand_storage::{Subject, Trace, Workshop};
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
    let parts: BTreeSet<&Part> = before.keys().chain(after.keys()).collect();
    for part in parts {
        let was = before.get(part);
        if was == after.get(part) {
            continue;
        }
        match after.contains_key(part) {
            true => set.push(part.label(desk)?),
            false => removed.push(part.label(desk)?),
        }
        traces.push(Traced::wrote(Facet::Setting, 0, &was)?.part(part.text()?));
    }
    if traces.is_empty() {
        return Ok(());
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
    let mut entry = Entry::new(BookingKind::Set, desk.context.today, summary.trim());
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
    let mut keep = |part, row: Value| kept.insert(part, row);
    for row in desk.tx.people()? {
        keep(Part::Person(row.id), Value::Bool(row.paid));
    }
    for row in desk.tx.pay_rates()? {
        let part = Part::PayRate(row.person_id, None, row.from_date);
        keep(part, tree(&row)?);
    }
    for row in desk.tx.kind_pay_rates()? {
        let part = Part::PayRate(row.person_id, Some(row.kind), row.from_date);
        keep(part, tree(&row)?);
    }
    for row in desk.tx.overhead_rates()? {
        keep(Part::Overhead(row.from_date), tree(&row)?);
    }
    for row in desk.tx.yearly_figures()? {
        keep(Part::Figures(row.from_date), tree(&row)?);
    }
    for row in desk.tx.overhead_spent()? {
        keep(Part::Spent(row.from_date, row.to_date), tree(&row)?);
    }
    for row in desk.tx.tax_rates()? {
        keep(Part::Tax(row.name.clone()), tree(&row)?);
    }
    for row in desk.tx.tax_reclaims()? {
        keep(Part::Reclaim(row.from_date), tree(&row)?);
    }
    for row in desk.tx.usual_operations()? {
        keep(Part::Operation(row.name.to_lowercase()), tree(&row)?);
    }
    Ok(kept)
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

/// Refuses what the caller may not set, and what closed books keep as it is. Whoever was named stays.
pub(crate) fn may_go_back(desk: &mut Desk<'_>, code: BookingCode, traces: &[Trace]) -> Done<()> {
    let mut someone_new = true;
    for row in traces {
        let part = Part::of(row)?;
        desk.context.caller.may_do(part.needs())?;
        if let Some(day) = part.day() {
            let hint = "set it anew from a later day on, or undo the closing first";
            super::settles(desk.context, day, "booking", hint)?;
        }
        someone_new &= matches!(part, Part::Person(_)) && row.was.as_deref() == Some("null");
    }
    if someone_new {
        let hint = "mark them as own or paid with ellwand person set";
        return Err(cannot(format!("{code} named someone new, who stays"), hint));
    }
    Ok(())
}

/// Puts back what a booking set over. What garments cost that were finished since rests on it, and stays.
pub(crate) fn put_back(desk: &mut Desk<'_>, code: BookingCode, traces: &[Trace]) -> Done<()> {
    let mut parts = Vec::new();
    for row in traces {
        parts.push((Part::of(row)?, trace::was::<Option<Value>>(row)?));
    }
    let from = parts.iter().filter_map(|(part, _)| part.costs_from()).min();
    let before = from.map(|from| FinalCosts::read(desk, from)).transpose()?;
    let now = desk.tx.workshop()?;
    let now = now.as_ref().unwrap_or(&desk.context.workshop);
    let mut columns = columns(now)?;
    for (part, was) in parts {
        match part {
            Part::Column(name) => drop(columns.insert(name, was.unwrap_or_default())),
            part => part.put(desk, was)?,
        }
    }
    let then: Workshop = json::read(&Value::Object(columns).to_string()).map_err(fault)?;
    fixed(now, &then)?;
    super::save(desk, then, &format!("settings by undoing {code}"))?;
    match before {
        Some(before) => finished_since(desk, code, &before),
        None => Ok(()),
    }
}

fn finished_since(desk: &mut Desk<'_>, code: BookingCode, before: &FinalCosts) -> Done<()> {
    let (of, kind) = (Subject::Garment, BookingKind::Finished);
    for garment in before.changed(desk)? {
        let finished = desk.tx.standing_bookings(of, garment.get(), kind)?;
        if finished.iter().any(|finished| finished.id > code.get()) {
            let detail = format!("{garment} was finished since, and its cost rests on that rate");
            let hint = "set the rate anew; --really recounts the hours of what is finished";
            return Err(cannot(detail, hint).naming("garment", garment));
        }
    }
    Ok(())
}

/// Refuses to change what is fixed by now.
fn fixed(now: &Workshop, then: &Workshop) -> Done<()> {
    let what = if now.currency_fixed && now.currency != then.currency {
        "currency"
    } else if now.pooled_method_fixed && now.pooled_method != then.pooled_method {
        "way thread and trims are valued"
    } else {
        return Ok(());
    };
    let detail = format!("the {what} is fixed: purchases or quotations use it since");
    Err(cannot(detail, "it stays as it is"))
}
