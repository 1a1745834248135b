//! Labour and overhead behind a price.

use super::{costs::Base, internal};
use crate::{
    context::Context,
    costs::Costed,
    failure::Done,
    perform::Perform,
    rates::{self, Rates},
};
use chrono::NaiveDate;
use ellwand_contract::operations::GetEstimates;
use ellwand_domain::{
    certainty::Certainty,
    code::GarmentCode,
    costing::{HourlyCost, LineKind, LossReason, labour_cost},
    pricing::PriceGroup,
    quantity::{HourlyRate, Millionths, Minutes},
    setting::WorkKind,
};
use ellwand_storage::{Garment, Tx, WorkEntry};

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
    pub(super) const fn group(&self) -> PriceGroup {
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

    pub(super) fn cost(&self, minutes: Minutes) -> Done<Millionths> {
        match self {
            Self::Own(rate) => Ok(rate.of(minutes.get())?),
            Self::Paid(rate) => labour_cost(minutes, *rate).map_err(internal),
            Self::Free | Self::Unknown => Ok(Millionths::ZERO),
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
    let year = rates::by_figures(tx, day)?;
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
        (entry.person_id, entry.kind.0),
        entry.on_date,
        false,
    )?;
    if matches!(hour, Hour::Free | Hour::Unknown) {
        return Ok(None);
    }
    let pay = hour.cost(Minutes::new(entry.minutes)?)?;
    let overhead = rates::overhead(tx, entry.on_date)?.unwrap_or(HourlyCost::NONE);
    Ok(Some(pay.plus(overhead.of(entry.minutes)?)?))
}

/// Planned minutes at the rates of the day.
pub(super) fn planned(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    day: NaiveDate,
    base: &mut Base,
) -> Done<()> {
    let estimates = GetEstimates {
        garment: GarmentCode::new(garment.id),
    }
    .perform(tx, context)?
    .operations;
    let (mut billable, mut rates) = (0_i64, Rates::default());
    for operation in tx.operations(garment.id)? {
        let minutes = Minutes::new(operation.minutes)?;
        let hour = hour(
            tx,
            &mut rates,
            (operation.person_id, operation.kind.0),
            day,
            true,
        )?;
        let own = matches!(hour, Hour::Own(_) | Hour::Free);
        if own {
            base.price.own_minutes = sum(base.price.own_minutes, minutes)?;
        }
        if operation.billable {
            billable = billable.saturating_add(operation.minutes);
        } else if !own {
            continue;
        }
        if operation.billable && hour.rate()?.is_none() {
            let person = rates.name(tx, operation.person_id)?;
            let text = format!("{}: {person} has no pay rate", operation.name);
            base.miss(hour.group(), &operation.name, text);
            continue;
        }
        let cost = if operation.billable {
            hour.cost(minutes)?
        } else {
            Millionths::ZERO
        };
        let told = (
            operation.name.as_str(),
            rates.name(tx, operation.person_id)?.to_owned(),
        );
        add(base, &hour, told, minutes, Certainty::Estimated, cost)?;
        belongs_to(base, operation.detail.as_ref());
        let past = estimates
            .iter()
            .find(|past| past.operation == operation.name);
        let range = past.and_then(|past| past.low_minutes.zip(past.high_minutes));
        if let (Some((low, high)), Some(line)) = (range, base.costs.last_mut()) {
            let of = |each: i64| Minutes::new(each.saturating_mul(garment.count));
            line.range = Some(format!("{} to {}", of(low)?, of(high)?));
        }
    }
    let Some(rate) = rates::overhead(tx, day)? else {
        if billable > 0 {
            base.notes.push(format!(
                "no overhead rate holds on {day}: the hours carry none"
            ));
        }
        return Ok(());
    };
    overhead(
        base,
        rate.of(billable)?,
        Some(Minutes::new(billable)?),
        Certainty::Estimated,
    );
    Ok(())
}

/// Minutes that were worked, at the rates of their days; mistakes are losses.
pub(super) fn worked(
    tx: &mut Tx<'_>,
    garment: &Garment,
    costed: &Costed,
    base: &mut Base,
) -> Done<()> {
    let sheet = &costed.sheet;
    let mut losses = sheet.own_mistakes.plus(sheet.faulty_cloth)?;
    let mut rates = Rates::default();
    for entry in tx.work(garment.id)? {
        let minutes = Minutes::new(entry.minutes)?;
        let hour = hour(
            tx,
            &mut rates,
            (entry.person_id, entry.kind.0),
            entry.on_date,
            false,
        )?;
        let own = matches!(hour, Hour::Own(_) | Hour::Free);
        if own {
            base.price.own_minutes = sum(base.price.own_minutes, minutes)?;
        }
        let cost = if entry.billable {
            hour.cost(minutes)?
        } else {
            Millionths::ZERO
        };
        if matches!(
            LossReason::of_work(entry.reason.0),
            Some(LossReason::OwnMistake | LossReason::FaultyCloth)
        ) {
            // Own time is what the price is to pay for, not money that went. The cost sheet counts it by its pay rate.
            if own {
                losses = losses.minus(cost)?;
            }
            continue;
        }
        if entry.billable && hour.rate()?.is_none() {
            let person = rates.name(tx, entry.person_id)?;
            let text = format!(
                "{}: {person} has no pay rate on {}",
                entry.operation, entry.on_date
            );
            base.miss(hour.group(), &entry.operation, text);
            continue;
        }
        if entry.billable || own {
            let told = (
                entry.operation.as_str(),
                rates.name(tx, entry.person_id)?.to_owned(),
            );
            add(base, &hour, told, minutes, Certainty::Measured, cost)?;
            belongs_to(base, entry.detail.as_ref());
        }
    }
    base.price.losses = losses;
    let lines = sheet
        .lines
        .iter()
        .filter(|line| line.kind == LineKind::Overhead)
        .map(|line| line.actual);
    let changes = sheet.losses.iter().filter(|loss| {
        loss.kind == LineKind::Overhead && loss.reason == LossReason::CustomerChange
    });
    let all = Millionths::sum(lines.chain(changes.map(|loss| loss.value)))?;
    overhead(base, all, None, Certainty::Measured);
    Ok(())
}

fn sum(one: Minutes, other: Minutes) -> Done<Minutes> {
    Ok(Minutes::new(one.get().saturating_add(other.get()))?)
}

/// Says to which detail the line that was added last belongs.
fn belongs_to(base: &mut Base, detail: Option<&String>) {
    if let Some(line) = base.costs.last_mut() {
        line.of_detail = detail.cloned();
    }
}

fn add(
    base: &mut Base,
    hour: &Hour,
    told: (&str, String),
    minutes: Minutes,
    certainty: Certainty,
    cost: Millionths,
) -> Done<()> {
    let group = hour.group();
    base.hours(group, told, Some(minutes), certainty, cost);
    Ok(())
}

fn overhead(base: &mut Base, cost: Millionths, minutes: Option<Minutes>, certainty: Certainty) {
    if !cost.is_zero() {
        let told = ("overhead", "on billable hours".to_owned());
        base.hours(PriceGroup::Overhead, told, minutes, certainty, cost);
    }
}
