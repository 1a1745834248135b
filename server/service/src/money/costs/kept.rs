//! What acts keep of a plan when they end it, so that it stays as it was: a cut, of the units that it serves; finishing and giving
//! up, of what was never cut. It counts while the booking of the act stands.

use super::{of_lot, plan::NeedPlan};
use crate::{
    desk::{Desk, failure::Done},
    shelf::{
        shelved::LotRecord,
        worth::{self, Worth},
    },
};
use ellwand_domain::{
    costing::{CostItem, Extent, PriceGroup},
    quantity::{Millionths, exact},
};
use ellwand_storage::{Garment, Need, PlannedCost, Tx};

/// What was kept of a garment's plan.
pub(super) struct Kept(Vec<PlannedCost>);

impl Kept {
    pub(super) fn read(tx: &mut Tx<'_>, garment: i64) -> Done<Self> {
        Ok(Self(tx.planned_costs(garment)?))
    }

    /// What was kept of a need.
    pub(super) fn of(&self, tx: &mut Tx<'_>, need: &Need) -> Done<Vec<CostItem>> {
        let mut items = Vec::new();
        for row in self.0.iter().filter(|row| row.need_id == need.id) {
            let value = row.value.map(Millionths::new).transpose()?;
            items.push(match row.lot_id {
                Some(lot) => {
                    let record = LotRecord::load(tx, lot)?;
                    let quantity = row.quantity.unwrap_or(0);
                    let worth = match value {
                        Some(value) => Worth::booked(value),
                        None => worth::priced_since(tx, &record.lot, quantity)?,
                    };
                    let item = of_lot(&need.role, &record, quantity, worth);
                    CostItem {
                        extent: item.extent.filter(|_| row.quantity.is_some()),
                        ..item
                    }
                }
                None => CostItem {
                    of: vec!["estimate".to_owned()],
                    ..CostItem::new(
                        PriceGroup::Materials,
                        &need.role,
                        value.unwrap_or(Millionths::ZERO),
                    )
                },
            });
        }
        Ok(items)
    }
}

/// Keeps what an act ends of the plan of a need.
fn keep(
    tx: &mut Tx<'_>,
    (booking, position, need): (i64, i64, i64),
    lot: Option<i64>,
    (quantity, value): Ended,
) -> Done<()> {
    let row = PlannedCost {
        booking_id: booking,
        position,
        need_id: need,
        lot_id: lot,
        quantity: quantity.filter(|quantity| *quantity > 0),
        value: value.map(|value| value.get().max(0)),
    };
    Ok(tx.insert_planned_cost(&row)?)
}

/// How much was planned of what an act ended, and what it was to cost, where that is known.
pub(crate) type Ended = (Option<i64>, Option<Millionths>);

/// Keeps what a cut ended of its need's plan; nothing where nothing was planned.
pub(crate) fn keep_cut(
    tx: &mut Tx<'_>,
    booking: i64,
    (need, lot): (i64, i64),
    ended: Ended,
) -> Done<()> {
    let nothing = ended.1.is_none_or(Millionths::is_zero);
    if ended.0 == Some(0) || (ended.0.is_none() && nothing) {
        return Ok(());
    }
    keep(tx, (booking, 0, need), Some(lot), ended)
}

/// Keeps what is promised, estimated or on the shelf for all needs of a garment: the act gives it up.
pub(crate) fn keep_all(desk: &mut Desk<'_>, booking: i64, garment: &Garment) -> Done<()> {
    let mut position = 0_i64;
    for plan in NeedPlan::of_garment(desk, garment)? {
        let items = plan.promised.iter().chain(&plan.open);
        for item in items.filter(|item| item.priced) {
            let ended = (item.extent.map(Extent::number), Some(item.value));
            keep(
                desk,
                (booking, position, plan.need.row.id),
                item.lots.first().copied(),
                ended,
            )?;
            position = position.saturating_add(1);
        }
    }
    Ok(())
}

/// What is planned for the open units of a need.
pub(crate) struct OpenPlan {
    units: i64,
    ended: Ended,
}

impl OpenPlan {
    /// None where nothing is open, or it has no price.
    pub(crate) fn read(desk: &mut Desk<'_>, garment: &Garment, need: i64) -> Done<Option<Self>> {
        let plans = NeedPlan::of_garment(desk, garment)?;
        let plan = plans.into_iter().find(|plan| plan.need.row.id == need);
        let Some(plan) = plan.filter(|plan| plan.open.iter().all(|item| item.priced)) else {
            return Ok(None);
        };
        let mut all = plan.open.into_iter();
        let Some(mut whole) = all.next() else {
            return Ok(None);
        };
        all.try_for_each(|item| whole.absorb(item))?;
        Ok(Some(Self {
            units: plan.units,
            ended: (whole.extent.map(Extent::number), Some(whole.value)),
        }))
    }

    /// The share of so many of them.
    pub(crate) fn share(&self, units: i64) -> Done<Ended> {
        let (quantity, value) = self.ended;
        let units = units.clamp(0, self.units);
        let share = |whole: i64| exact::mul_div_nearest(whole, units, self.units);
        Ok((
            quantity.map(share).transpose()?,
            value
                .map(|value| value.share(units, self.units))
                .transpose()?,
        ))
    }
}
