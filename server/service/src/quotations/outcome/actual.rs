//! What was booked on the garment: cloth at its lots' cost, hours at the rates that a price counts them by.

use super::{
    super::labour::{Hour, hour},
    lines::{Exact, Lines, Part, Side},
};
use crate::{costs::Costed, failure::Done, rates::Rates, shelved::LotRecord};
use ellwand_domain::{
    costing::{LineKind, LossLine, LossReason},
    pricing::PriceGroup,
    quantity::{Millionths, Minutes},
    setting::PriceFrom,
};
use ellwand_storage::{Garment, Tx};

/// A loss or a customer's change.
#[derive(Debug, Clone)]
pub(super) struct Apart {
    pub(super) reason: LossReason,
    pub(super) group: PriceGroup,
    pub(super) name: String,
    pub(super) exact: Option<Exact>,
    pub(super) value: Millionths,
}

/// Minutes of one operation, by what an hour of them costs.
struct Worked {
    operation: String,
    hour: Hour,
    reason: Option<LossReason>,
    minutes: i64,
    people: Vec<String>,
}

/// What was booked, beside the lines.
#[derive(Debug, Default)]
pub(super) struct Actual {
    pub(super) apart: Vec<Apart>,
    /// All own minutes, billable or not, mistakes with them.
    pub(super) own_minutes: Minutes,
    /// Everything, losses and changes with it.
    pub(super) total: Millionths,
    /// Not all hours have a rate, so that there is no total.
    pub(super) unpriced: bool,
    /// Some of those are paid ones, so that it is not known either what is left for the own.
    pub(super) wages_unknown: bool,
}

impl Actual {
    pub(super) fn work_out(
        tx: &mut Tx<'_>,
        garment: &Garment,
        costed: &Costed,
        from: PriceFrom,
        lines: &mut Lines,
        notes: &mut Vec<String>,
    ) -> Done<Self> {
        let mut actual = Self::default();
        actual.materials(tx, costed, lines)?;
        // Own hours count by the same figures as in the quotation, so that no difference comes of another book of rates.
        actual.labour(tx, garment, from == PriceFrom::Plan, lines, notes)?;
        actual.overhead(tx, garment, costed, lines)?;
        actual
            .apart
            .sort_by_key(|apart| (rank(apart.reason), apart.group));
        let booked = lines
            .0
            .iter()
            .filter_map(|line| line.actual.as_ref())
            .map(|part| part.value);
        actual.total = Millionths::sum(booked.chain(actual.apart.iter().map(|apart| apart.value)))?;
        Ok(actual)
    }

    /// Losses and changes for the comparison.
    pub(super) fn losses(&self) -> Vec<LossLine> {
        let line = |apart: &Apart| LossLine {
            kind: match apart.group {
                PriceGroup::Materials => LineKind::Material,
                PriceGroup::PaidLabour | PriceGroup::OwnLabour => LineKind::Labour,
                PriceGroup::Overhead => LineKind::Overhead,
            },
            name: match apart.group {
                PriceGroup::Overhead => format!("overhead on {}", apart.name),
                _ => apart.name.clone(),
            },
            reason: apart.reason,
            value: apart.value,
        };
        self.apart.iter().map(line).collect()
    }

    fn materials(&mut self, tx: &mut Tx<'_>, costed: &Costed, lines: &mut Lines) -> Done<()> {
        for (line, shown) in costed.sheet.lines.iter().zip(&costed.lines) {
            let taken = shown.taken.filter(|taken| taken.actual > 0);
            if line.kind != LineKind::Material || (taken.is_none() && line.actual.is_zero()) {
                continue;
            }
            let part = Part {
                exact: taken
                    .map(|taken| exact(tx, taken.lot, taken.actual))
                    .transpose()?,
                value: line.actual,
                details: vec![shown.detail.clone()],
                lots: taken.iter().map(|taken| taken.lot).collect(),
                ..Part::default()
            };
            lines.add(Side::Actual, PriceGroup::Materials, &shown.name, part)?;
        }
        for (loss, shown) in costed.sheet.losses.iter().zip(&costed.losses) {
            if loss.kind == LineKind::Material {
                let exact = shown
                    .taken
                    .map(|taken| exact(tx, taken.lot, taken.actual))
                    .transpose()?;
                self.apart.push(Apart {
                    reason: loss.reason,
                    group: PriceGroup::Materials,
                    name: shown.name.clone(),
                    exact,
                    value: loss.value,
                });
            }
        }
        Ok(())
    }

    fn labour(
        &mut self,
        tx: &mut Tx<'_>,
        garment: &Garment,
        figures_first: bool,
        lines: &mut Lines,
        notes: &mut Vec<String>,
    ) -> Done<()> {
        let (mut own, mut unbillable) = (0_i64, 0_i64);
        let mut worked: Vec<Worked> = Vec::new();
        let mut rates = Rates::default();
        for entry in tx.work(garment.id)? {
            let person = (entry.person_id, entry.kind.0);
            let hour = hour(tx, &mut rates, person, entry.on_date, figures_first)?;
            if matches!(hour, Hour::Own(_) | Hour::Free) {
                own = own.saturating_add(entry.minutes);
            }
            if !entry.billable {
                unbillable = unbillable.saturating_add(entry.minutes);
                continue;
            }
            if hour.rate()?.is_none() {
                self.unpriced = true;
                self.wages_unknown |= hour == Hour::Unknown;
                let minutes = Minutes::new(entry.minutes)?;
                let (operation, day) = (&entry.operation, entry.on_date);
                let person = rates.name(tx, entry.person_id)?;
                notes.push(format!(
                    "{minutes} of {operation} are not priced: {person} has no pay rate on {day}"
                ));
            }
            let reason = LossReason::of_work(entry.reason.0);
            let person = rates.name(tx, entry.person_id)?.to_owned();
            let same = |known: &&mut Worked| {
                known.operation == entry.operation && known.hour == hour && known.reason == reason
            };
            match worked.iter_mut().find(same) {
                Some(known) => {
                    known.minutes = known.minutes.saturating_add(entry.minutes);
                    if !known.people.contains(&person) {
                        known.people.push(person);
                    }
                }
                None => worked.push(Worked {
                    operation: entry.operation,
                    hour,
                    reason,
                    minutes: entry.minutes,
                    people: vec![person],
                }),
            }
        }
        self.own_minutes = Minutes::new(own)?;
        if unbillable > 0 {
            let time = Minutes::new(unbillable)?;
            notes.push(format!("{time} are not billable: they carry no cost, and count among the own hours where they are own"));
        }
        for Worked {
            operation,
            hour,
            reason,
            minutes,
            people,
        } in worked
        {
            let value = hour.cost(Minutes::new(minutes)?)?;
            let exact = (hour != Hour::Unknown).then_some(Exact::Minutes(minutes));
            let group = hour.group();
            match reason {
                Some(reason) => self.apart.push(Apart {
                    reason,
                    group,
                    name: operation,
                    exact,
                    value,
                }),
                None => {
                    let part = Part {
                        exact,
                        value,
                        details: people,
                        ..Part::default()
                    };
                    lines.add(Side::Actual, group, &operation, part)?;
                }
            }
        }
        Ok(())
    }

    fn overhead(
        &mut self,
        tx: &mut Tx<'_>,
        garment: &Garment,
        costed: &Costed,
        lines: &mut Lines,
    ) -> Done<()> {
        let work = tx.work(garment.id)?;
        let own = work
            .iter()
            .filter(|entry| entry.billable && LossReason::of_work(entry.reason.0).is_none());
        let minutes = own.fold(0_i64, |sum, entry| sum.saturating_add(entry.minutes));
        let booked = costed
            .sheet
            .lines
            .iter()
            .filter(|line| line.kind == LineKind::Overhead);
        let value = Millionths::sum(booked.map(|line| line.actual))?;
        if minutes > 0 {
            let details = vec!["on billable hours".to_owned()];
            let part = Part {
                exact: Some(Exact::Minutes(minutes)),
                value,
                details,
                ..Part::default()
            };
            lines.add(Side::Actual, PriceGroup::Overhead, "overhead", part)?;
        }
        for loss in costed
            .sheet
            .losses
            .iter()
            .filter(|loss| loss.kind == LineKind::Overhead)
        {
            self.apart.push(Apart {
                reason: loss.reason,
                group: PriceGroup::Overhead,
                name: loss.name.clone(),
                exact: None,
                value: loss.value,
            });
        }
        Ok(())
    }
}

/// Losses first, then what the customer wanted.
const fn rank(reason: LossReason) -> u8 {
    match reason {
        LossReason::OwnMistake => 0,
        LossReason::FaultyCloth => 1,
        LossReason::CustomerChange => 2,
    }
}

/// A quantity of a lot in its unit.
fn exact(tx: &mut Tx<'_>, lot: i64, quantity: i64) -> Done<Exact> {
    let counted = LotRecord::load(tx, lot)?.is_counted();
    Ok(if counted {
        Exact::Count(quantity)
    } else {
        Exact::Length(quantity)
    })
}
