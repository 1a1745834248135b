//! What was booked on a garment: materials as the ledger moved them, work at the rates of its days.

use super::{Costs, flows::Flows, internal, of_lot};
use crate::{
    desk::{Desk, failure::Done},
    money::rates::{self, Hour, Rates, hour},
    shelf::{shelved::LotRecord, worth},
};
use chrono::NaiveDate;
use ellwand_domain::{
    code::{GarmentCode, PurchaseCode},
    costing::{CostItem, Extent, HourlyCost, LossReason, PriceGroup, overhead_on},
    purchase::ChargeKind,
    quantity::{Millionths, Minutes},
};
use ellwand_storage::{Garment, Tx, WorkEntry};
use std::collections::{BTreeMap, btree_map::Entry};

/// Everything that was booked; own hours by the year's figures before the pay rate, where `figures_first`.
pub(crate) fn booked(desk: &mut Desk<'_>, garment: &Garment, figures_first: bool) -> Done<Costs> {
    let mut costs = materials(desk, garment)?;
    work(desk, garment, figures_first, &mut costs)?;
    Ok(costs)
}

/// Materials, one for each need, lot and loss; then late charges and what cancelled garments left.
pub(crate) fn materials(desk: &mut Desk<'_>, garment: &Garment) -> Done<Costs> {
    let mut costs = Costs::default();
    let mut flows = Flows::read(desk, garment.id)?;
    let mut lots: BTreeMap<i64, LotRecord> = BTreeMap::new();
    for line in &flows.materials {
        if let Entry::Vacant(place) = lots.entry(line.lot) {
            place.insert(LotRecord::load(desk, line.lot)?);
        }
    }
    let purchase_of = lots
        .iter()
        .map(|(lot, record)| (*lot, record.lot.purchase_id))
        .collect();
    costs.notes.extend(flows.deduct_credits(&purchase_of)?);
    for need in desk.tx.needs(garment.id)? {
        for line in flows.materials.iter().filter(|line| line.need == need.id) {
            let Some(record) = lots.get(&line.lot) else {
                continue;
            };
            if line.loss.is_none() && line.quantity == 0 && line.value.is_zero() {
                continue;
            }
            let sums = (line.value, line.quantity);
            let worth = worth::of_cuts(desk, record, &line.cuts, sums)?;
            let item = CostItem {
                loss: line.loss,
                feature: need.detail.clone(),
                ..of_lot(&need.role, record, line.quantity, worth)
            };
            if !item.priced {
                costs.miss_price(desk.context, &item)?;
            }
            costs.items.push(item);
        }
    }
    let mut apart = |name: &str, of: String, value: Millionths| {
        costs.items.push(CostItem {
            of: vec![of],
            ..CostItem::new(PriceGroup::Materials, name, value)
        });
    };
    for (purchase, value) in &flows.charges {
        let of = PurchaseCode::new(*purchase).to_string();
        apart(came_late(desk, *purchase)?, of, *value);
    }
    for (from, value) in &flows.transfers {
        let from = format!("from {}", GarmentCode::new(*from));
        apart("material taken over", from, *value);
    }
    if !flows.left.is_empty() {
        let went = flows.left.iter();
        let went =
            went.map(|(place, value)| format!("{} to {place}", desk.context.printed(*value)));
        costs.notes.push(format!(
            "when the garment was cancelled, part of this cost went elsewhere: {}",
            went.collect::<Vec<_>>().join(", ")
        ));
    }
    Ok(costs)
}

/// What came after a purchase that it still bears.
fn came_late(tx: &mut Tx<'_>, purchase: i64) -> Done<&'static str> {
    let mut charges = tx.purchase_charges(purchase)?;
    charges.retain(|charge| charge.late);
    let prices = charges
        .iter()
        .filter(|charge| charge.kind == ChargeKind::Price);
    Ok(match (prices.count(), charges.len()) {
        (0, _) => "late charge",
        (prices, all) if prices == all => "price logged later",
        _ => "price logged later, and late charge",
    })
}

/// Minutes of one person at one operation, by what an hour of them costs.
struct Worked {
    person: i64,
    hour: Hour,
    overhead: HourlyCost,
    item: CostItem,
}

/// Work, then the overhead on its billable minutes.
fn work(tx: &mut Tx<'_>, garment: &Garment, figures_first: bool, costs: &mut Costs) -> Done<()> {
    let mut rates = Rates::default();
    let mut days: BTreeMap<NaiveDate, Option<HourlyCost>> = BTreeMap::new();
    let mut worked: Vec<Worked> = Vec::new();
    for entry in tx.work(garment.id)? {
        let whose = (entry.person_id, entry.kind);
        let hour = hour(tx, &mut rates, whose, entry.on_date, figures_first)?;
        let overhead = match days.get(&entry.on_date) {
            Some(known) => *known,
            None => {
                let rate = rates::overhead(tx, entry.on_date)?;
                if entry.billable {
                    days.insert(entry.on_date, rate);
                }
                rate
            }
        };
        let person = rates.name(tx, entry.person_id)?.to_owned();
        let priced = !entry.billable || hour.rate()?.is_some();
        if !priced {
            let share = Minutes::new(entry.minutes)?.to_string();
            let why = format!("{person} has no pay rate on {}", entry.on_date);
            costs.miss(hour.group(), &entry.operation, share, why);
        }
        add(
            &mut worked,
            &entry,
            Worked {
                person: entry.person_id,
                hour,
                overhead: overhead.unwrap_or(HourlyCost::NONE),
                item: CostItem {
                    of: vec![person],
                    extent: Some(Extent::Minutes(entry.minutes)),
                    billable: entry.billable,
                    feature: entry.detail.clone(),
                    priced,
                    loss: LossReason::of_work(entry.reason),
                    ..CostItem::new(hour.group(), &entry.operation, Millionths::ZERO)
                },
            },
        )?;
    }
    for (day, _) in days.iter().filter(|(_, rate)| rate.is_none()) {
        costs.notes.push(format!(
            "no overhead rate applies on {day}: that day's work carries no overhead"
        ));
    }
    for own in worked.iter_mut().filter(|own| own.item.billable) {
        if let Some(rate) = own.hour.rate()? {
            own.item.value = rate.of(own.item.minutes())?;
        }
    }
    let billable = worked.iter().filter(|own| own.item.billable);
    let billable: Vec<_> = billable.map(|own| (&own.item, own.overhead)).collect();
    let overhead = overhead_on(&billable).map_err(internal)?;
    costs.items.extend(worked.into_iter().map(|own| own.item));
    costs.items.extend(overhead);
    Ok(())
}

/// Adds an entry to those that are alike, so that their cost is rounded once.
fn add(worked: &mut Vec<Worked>, entry: &WorkEntry, new: Worked) -> Done<()> {
    let alike = |known: &&mut Worked| {
        let of = |own: &Worked| (own.person, own.hour, own.overhead, own.item.billable);
        let kind_of = |own: &Worked| (own.item.loss, own.item.feature.clone());
        known.item.name == entry.operation
            && of(known) == of(&new)
            && kind_of(known) == kind_of(&new)
    };
    match worked.iter_mut().find(alike) {
        Some(known) => known.item.absorb(new.item)?,
        None => worked.push(new),
    }
    Ok(())
}
