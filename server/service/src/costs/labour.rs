//! Labour lines: one an operation; only billable minutes carry labour and overhead.

use super::{Shown, Unpriced, material::because, refused};
use crate::{context::Context, failure::Done, quotations::labour::hour, rates::Rates};
use chrono::NaiveDate;
use ellwand_domain::{
    costing::{HourlyCost, LabourLine, LossReason, PlannedWork, WorkDone},
    quantity::{Millionths, Minutes},
};
use ellwand_storage::{Garment, Operation, Tx, WorkEntry};
use std::collections::HashMap;

/// Lines for the sheet, and how they are told.
pub(super) struct Labour {
    pub(super) lines: Vec<LabourLine>,
    pub(super) shown: Vec<Shown>,
    pub(super) losses: Vec<Shown>,
    /// Overhead per billable hour in the plan.
    pub(super) rate: HourlyCost,
    /// Planned and worked billable minutes, losses not in them.
    pub(super) minutes: (Option<String>, Option<String>),
    /// Where hours have no rate.
    pub(super) unpriced: Unpriced,
}

pub(super) fn lines(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    notes: &mut Vec<String>,
) -> Done<Labour> {
    let operations = tx.operations(garment.id)?;
    let work = tx.work(garment.id)?;
    let mut overheads = Overheads::default();
    let mut days: Vec<NaiveDate> = work
        .iter()
        .filter(|entry| entry.billable)
        .map(|entry| entry.on_date)
        .collect();
    days.sort_unstable();
    days.dedup();
    for day in days {
        if overheads.on(tx, garment, day)?.is_none() {
            notes.push(format!(
                "no overhead rate holds on {day}: the work of that day carries none"
            ));
        }
    }
    let mut labour = Labour {
        lines: Vec::new(),
        shown: Vec::new(),
        losses: Vec::new(),
        rate: overheads.planned(tx, context, garment, &work)?,
        minutes: (None, None),
        unpriced: Unpriced::default(),
    };
    let mut names: Vec<&str> = operations
        .iter()
        .map(|operation| operation.name.as_str())
        .collect();
    for entry in &work {
        if !names.contains(&entry.operation.as_str()) {
            names.push(&entry.operation);
        }
    }
    let mut rates = Rates::default();
    let (mut planned, mut worked) = (0_i64, 0_i64);
    for name in names {
        let plan = operations.iter().find(|operation| operation.name == name);
        let entries: Vec<&WorkEntry> = work
            .iter()
            .filter(|entry| entry.operation == name)
            .collect();
        labour.operation(
            tx, context, &mut rates, &overheads, name, plan, &entries, notes,
        )?;
        if let Some(plan) = plan.filter(|plan| plan.billable) {
            planned = planned.saturating_add(plan.minutes);
        }
        let own = entries
            .iter()
            .filter(|entry| entry.billable && LossReason::of_work(entry.reason.0).is_none());
        worked = own.fold(worked, |sum, entry| sum.saturating_add(entry.minutes));
    }
    labour.minutes = (time(planned)?, time(worked)?);
    let unbillable: i64 = work
        .iter()
        .filter(|entry| !entry.billable)
        .map(|entry| entry.minutes)
        .sum();
    if let Some(time) = time(unbillable)? {
        notes.push(format!(
            "{time} are not billable and carry neither labour nor overhead"
        ));
    }
    Ok(labour)
}

fn time(minutes: i64) -> Done<Option<String>> {
    Ok(if minutes == 0 {
        None
    } else {
        Some(Minutes::new(minutes)?.to_string())
    })
}

impl Labour {
    #[expect(
        clippy::too_many_arguments,
        reason = "an operation with all that is known of its cost"
    )]
    fn operation(
        &mut self,
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        rates: &mut Rates,
        overheads: &Overheads,
        name: &str,
        plan: Option<&Operation>,
        entries: &[&WorkEntry],
        notes: &mut Vec<String>,
    ) -> Done<()> {
        let mut planned_known = true;
        let mut planned = None;
        if let Some(plan) = plan.filter(|plan| plan.billable) {
            // The plan is priced as the work began, so that a later rate shows as a variance.
            let began = entries
                .iter()
                .map(|entry| entry.on_date)
                .min()
                .unwrap_or(context.today);
            let whose = (plan.person_id, plan.kind.0);
            let rate = match hour(tx, rates, whose, began, false)?.rate()? {
                Some(rate) => Some(rate),
                None => hour(tx, rates, whose, context.today, false)?.rate()?,
            };
            self.unpriced.planned |= rate.is_none();
            planned_known = rate.is_some();
            if rate.is_none() {
                let person = rates.name(tx, plan.person_id)?;
                notes.push(format!(
                    "{name} is not priced in the plan: {person} has no pay rate"
                ));
            }
            // Its overhead is known all the same.
            let rate = rate.unwrap_or(HourlyCost::NONE);
            planned = Some(PlannedWork {
                minutes: Minutes::new(plan.minutes)?,
                rate,
            });
        }
        let mut done: Vec<(WorkDone, Vec<i64>)> = Vec::new();
        let mut missing: Vec<Option<LossReason>> = Vec::new();
        for entry in entries {
            let rate = hour(
                tx,
                rates,
                (entry.person_id, entry.kind.0),
                entry.on_date,
                false,
            )?
            .rate()?;
            if rate.is_none() && entry.billable {
                missing.push(LossReason::of_work(entry.reason.0));
                let minutes = Minutes::new(entry.minutes)?;
                let person = rates.name(tx, entry.person_id)?;
                notes.push(format!(
                    "{minutes} of {name} are not priced: {person} has no pay rate on {}",
                    entry.on_date
                ));
            }
            let minutes = Minutes::new(entry.minutes)?;
            let own = WorkDone {
                minutes,
                rate: rate.unwrap_or(HourlyCost::NONE),
                billable: entry.billable,
                reason: LossReason::of_work(entry.reason.0),
                overhead: Some(overheads.known(entry.on_date)).filter(|own| *own != self.rate),
            };
            let same = |work: &WorkDone| WorkDone { minutes, ..*work } == own;
            match done.iter_mut().find(|(work, _)| same(work)) {
                Some((work, people)) => {
                    work.minutes = Minutes::new(work.minutes.get().saturating_add(entry.minutes))?;
                    if !people.contains(&entry.person_id) {
                        people.push(entry.person_id);
                    }
                }
                None => done.push((own, vec![entry.person_id])),
            }
        }
        let mut people: Vec<i64> = done
            .iter()
            .flat_map(|(_, people)| people.iter().copied())
            .collect();
        if people.is_empty() {
            people.extend(plan.map(|plan| plan.person_id));
        }
        let people = named(tx, rates, &people)?;
        let own = done
            .iter()
            .filter(|(work, _)| work.reason.is_none())
            .map(|(work, _)| work.minutes.get());
        self.shown.push(Shown {
            name: name.to_owned(),
            detail: people,
            planned: time(plan.map_or(0, |plan| plan.minutes))?,
            actual: time(own.sum())?,
            planned_known,
            actual_unknown: missing.contains(&None),
            ..Shown::default()
        });
        let lost = [Some(LossReason::OwnMistake), Some(LossReason::FaultyCloth)];
        self.unpriced.lost |= missing.iter().any(|reason| lost.contains(reason));
        self.unpriced.job |= missing.iter().any(|reason| !lost.contains(reason));
        for (work, people) in &done {
            if let Some(reason) = work.reason.filter(|_| work.billable) {
                self.losses.push(Shown {
                    name: name.to_owned(),
                    detail: format!("{}, {}", named(tx, rates, people)?, because(reason)),
                    actual: time(work.minutes.get())?,
                    planned_known: true,
                    actual_unknown: missing.contains(&Some(reason)),
                    ..Shown::default()
                });
            }
        }
        let actual = done.into_iter().map(|(work, _)| work).collect();
        self.lines.push(LabourLine {
            operation: name.to_owned(),
            planned,
            actual,
        });
        Ok(())
    }
}

/// Names of people, each once, in their order.
fn named(tx: &mut Tx<'_>, rates: &mut Rates, people: &[i64]) -> Done<String> {
    let mut names = Vec::new();
    for person in people {
        names.push(rates.name(tx, *person)?.to_owned());
    }
    names.sort_unstable();
    names.dedup();
    Ok(names.join(", "))
}

/// Overhead rates by day, read once.
#[derive(Default)]
struct Overheads(HashMap<NaiveDate, Option<HourlyCost>>);

impl Overheads {
    fn on(
        &mut self,
        tx: &mut Tx<'_>,
        garment: &Garment,
        day: NaiveDate,
    ) -> Done<Option<HourlyCost>> {
        if let Some(known) = self.0.get(&day) {
            return Ok(*known);
        }
        let rate = match tx.overhead_rate_on(day)? {
            Some(row) => Some(
                HourlyCost::over(Millionths::new(row.amount)?, row.minutes)
                    .map_err(|error| refused(garment, &error))?,
            ),
            None => None,
        };
        self.0.insert(day, rate);
        Ok(rate)
    }

    /// The rate of a day that was read; none where none holds.
    fn known(&self, day: NaiveDate) -> HourlyCost {
        self.0
            .get(&day)
            .copied()
            .flatten()
            .unwrap_or(HourlyCost::NONE)
    }

    /// The rate that the plan is priced with: as the garment's own work began, else as today.
    fn planned(
        &mut self,
        tx: &mut Tx<'_>,
        context: &Context<'_>,
        garment: &Garment,
        work: &[WorkEntry],
    ) -> Done<HourlyCost> {
        let own = work.iter().filter(|entry| entry.billable);
        if let Some(began) = own.map(|entry| entry.on_date).min()
            && let Some(rate) = self.on(tx, garment, began)?
        {
            return Ok(rate);
        }
        Ok(self
            .on(tx, garment, context.today)?
            .unwrap_or(HourlyCost::NONE))
    }
}
