//! Material lines: one a need and lot, then late charges and what cancelled garments left.

use super::{
    Shown, Taken,
    flows::{Flows, Lotted},
};
use crate::{
    context::Context,
    failure::Done,
    garments::need::NeedRecord,
    promises::Costs,
    shelved::{LotRecord, Shelved, amount, show},
};
use ellwand_domain::{
    code::{GarmentCode, PurchaseCode},
    costing::{LossReason, MaterialLine, MaterialLoss, Used},
    ledger::Quantity,
    quantity::Millionths,
    setting::ReservationState,
};
use ellwand_storage::{Garment, Tx};
use std::collections::BTreeMap;

/// Lines for the sheet, and how they are told.
#[derive(Default)]
pub(super) struct Materials {
    pub(super) lines: Vec<MaterialLine>,
    pub(super) shown: Vec<Shown>,
    pub(super) losses: Vec<Shown>,
}

/// Planned quantity and value by lot.
type Plans = BTreeMap<i64, Used>;

pub(super) fn lines(
    tx: &mut Tx<'_>,
    context: &Context<'_>,
    garment: &Garment,
    mut flows: Flows,
    notes: &mut Vec<String>,
) -> Done<Materials> {
    let mut plans = planned(tx, context, garment.id)?;
    let mut lots: BTreeMap<i64, LotRecord> = BTreeMap::new();
    let planned_lots = plans.values().flat_map(|plans| plans.keys().copied());
    let named: Vec<i64> = flows
        .materials
        .iter()
        .map(|line| line.lot)
        .chain(planned_lots)
        .collect();
    for lot in named {
        if let std::collections::btree_map::Entry::Vacant(place) = lots.entry(lot) {
            place.insert(LotRecord::load(tx, lot)?);
        }
    }
    let purchase_of = lots
        .iter()
        .map(|(lot, record)| (*lot, record.lot.purchase_id))
        .collect();
    notes.extend(flows.deduct_credits(&purchase_of)?);
    let mut materials = Materials::default();
    let mut unpriced = Vec::new();
    for row in tx.needs(garment.id)? {
        let dropped = row.dropped;
        let need = NeedRecord::read(row, garment.count)?;
        let plan = plans.remove(&need.row.id).unwrap_or_default();
        let (used, others) = flows
            .materials
            .into_iter()
            .partition(|line| line.need == need.row.id);
        flows.materials = others;
        if dropped && Vec::is_empty(&used) {
            continue;
        }
        if !materials.need(context, garment, &need, used, plan, &lots)? {
            unpriced.push(need.row.role);
        }
    }
    for (purchase, value) in &flows.charges {
        materials.apart(
            "late charge",
            PurchaseCode::new(*purchase).to_string(),
            *value,
        );
    }
    for (from, value) in &flows.transfers {
        materials.apart(
            "material taken over",
            format!("from {}", GarmentCode::new(*from)),
            *value,
        );
    }
    if !unpriced.is_empty() {
        let roles = unpriced.join(", ");
        notes.push(format!(
            "not priced, for nothing is promised and no estimate is given: {roles}"
        ));
    }
    if !flows.left.is_empty() {
        let parts: Vec<String> = flows
            .left
            .iter()
            .map(|(place, value)| format!("{} to {place}", context.printed(*value)))
            .collect();
        notes.push(format!(
            "of this cost went, when the garment was cancelled: {}",
            parts.join(", ")
        ));
    }
    Ok(materials)
}

/// What the promises plan, by need and lot: of what they were cut, as it was just before; of what they hold, as the book
/// stands.
fn planned(tx: &mut Tx<'_>, context: &Context<'_>, garment: i64) -> Done<BTreeMap<i64, Plans>> {
    let mut plans: BTreeMap<i64, Plans> = BTreeMap::new();
    let mut add = |need: i64, lot: i64, used: Used| -> Done<()> {
        let plan = plans.entry(need).or_default().entry(lot).or_default();
        plan.quantity = plan.quantity.saturating_add(used.quantity);
        plan.value = plan.value.plus(used.value)?;
        Ok(())
    };
    for cut in tx.cuts_of_garment(garment)? {
        if let Some((quantity, value)) = cut.planned_quantity.zip(cut.planned_value) {
            let used = Used {
                quantity,
                value: Millionths::new(value)?,
            };
            add(cut.need_id, cut.lot_id, used)?;
        }
    }
    let mut costs = Costs::default();
    for row in tx.reservations_of_garment(garment)? {
        let stands = row.state.0 == ReservationState::Active;
        if !stands || row.until.is_some_and(|day| day < context.today) {
            continue;
        }
        let shelved = Shelved::load_row(tx, row.piece_id)?;
        let value = costs.of(tx, context, &row, &shelved)?;
        add(
            row.need_id,
            shelved.stored.lot_id,
            Used {
                quantity: row.held,
                value,
            },
        )?;
    }
    // A promise of nothing plans nothing.
    for plan in plans.values_mut() {
        plan.retain(|_, used| used.quantity > 0);
    }
    Ok(plans)
}

/// `2.60 m`, `6 pcs`.
fn text(context: &Context<'_>, counted: bool, quantity: i64) -> Done<Option<String>> {
    if quantity == 0 {
        return Ok(None);
    }
    let shown = show(context, counted, Quantity::new(quantity)?);
    let plain = shown.bytes().all(|byte| byte.is_ascii_digit());
    Ok(Some(if plain { format!("{shown} pcs") } else { shown }))
}

/// What the need's own estimate plans for the whole batch.
fn estimated(garment: &Garment, need: &NeedRecord) -> Done<Option<Used>> {
    let Some(each) = need.row.estimate else {
        return Ok(None);
    };
    let value = Millionths::new(each)?.share(garment.count, 1)?;
    let unit = match (&need.demand, need.per_unit) {
        (Some(demand), _) => demand.told()?.map_or(0, |entry| entry.length.get()),
        (None, quantity) => quantity.map_or(0, Quantity::get),
    };
    Ok(Some(Used {
        quantity: unit.saturating_mul(need.row.units),
        value,
    }))
}

/// `estimate`, `estimate, 3 × 40.00`.
fn told_estimate(context: &Context<'_>, garment: &Garment, need: &NeedRecord) -> Done<String> {
    let each = need.row.estimate.filter(|_| garment.count > 1);
    Ok(match each {
        Some(each) => format!(
            "estimate, {} × {}",
            garment.count,
            context.printed(Millionths::new(each)?)
        ),
        None => "estimate".to_owned(),
    })
}

/// Why a loss was one, for people.
pub(super) const fn because(reason: LossReason) -> &'static str {
    match reason {
        LossReason::OwnMistake => "own mistake",
        LossReason::FaultyCloth => "faulty cloth",
        LossReason::CustomerChange => "customer's change",
    }
}

impl Materials {
    /// The lines of a need, one a lot; false when it has no planned cost.
    fn need(
        &mut self,
        context: &Context<'_>,
        garment: &Garment,
        need: &NeedRecord,
        used: Vec<Lotted>,
        mut plan: Plans,
        lots: &BTreeMap<i64, LotRecord>,
    ) -> Done<bool> {
        let role = &need.row.role;
        let mut estimate = if plan.is_empty() {
            estimated(garment, need)?
        } else {
            None
        };
        let known = !plan.is_empty() || estimate.is_some();
        let mut lines: Vec<(Option<i64>, Option<Used>, Option<Lotted>)> = Vec::new();
        for line in used {
            let planned = plan.remove(&line.lot).or_else(|| estimate.take());
            lines.push((Some(line.lot), planned, Some(line)));
        }
        lines.extend(
            plan.into_iter()
                .map(|(lot, used)| (Some(lot), Some(used), None)),
        );
        if lines.is_empty() {
            lines.push((None, estimate, None));
        }
        for (lot, planned, line) in lines {
            let record = lot.and_then(|lot| lots.get(&lot));
            let counted = record.map_or(need.counted, LotRecord::is_counted);
            let detail = match record {
                Some(record) => format!("{} {}", record.code(), record.material.name),
                None if planned.is_some() => told_estimate(context, garment, need)?,
                None => "nothing promised yet".to_owned(),
            };
            let actual = line.as_ref().map(|line| Used {
                quantity: line.quantity,
                value: line.value,
            });
            let actual = actual.unwrap_or_default();
            self.shown.push(Shown {
                name: role.clone(),
                detail: detail.clone(),
                planned: text(
                    context,
                    counted,
                    planned.map_or(0, |planned| planned.quantity),
                )?,
                actual: text(context, counted, actual.quantity)?,
                amounts: Some((
                    amount(
                        counted,
                        Quantity::new(planned.map_or(0, |planned| planned.quantity))?,
                    ),
                    amount(counted, Quantity::new(actual.quantity)?),
                )),
                planned_known: known,
                actual_unknown: false,
                taken: lot.map(|lot| Taken {
                    lot,
                    planned: planned.map_or(0, |planned| planned.quantity),
                    actual: actual.quantity,
                }),
            });
            let mut losses = Vec::new();
            for (reason, quantity, value) in line.map(|line| line.losses).unwrap_or_default() {
                losses.push(MaterialLoss {
                    used: Used { quantity, value },
                    reason,
                });
                self.losses.push(Shown {
                    name: role.clone(),
                    detail: format!("{detail}, {}", because(reason)),
                    actual: text(context, counted, quantity)?,
                    amounts: Some((
                        amount(counted, Quantity::ZERO),
                        amount(counted, Quantity::new(quantity)?),
                    )),
                    planned_known: true,
                    taken: lot.map(|lot| Taken {
                        lot,
                        planned: 0,
                        actual: quantity,
                    }),
                    ..Shown::default()
                });
            }
            self.lines.push(MaterialLine {
                name: role.clone(),
                planned,
                actual,
                losses,
            });
        }
        Ok(known)
    }

    /// A line of its own for a cost that no cut of this garment brought.
    fn apart(&mut self, name: &str, detail: String, value: Millionths) {
        let actual = Used { quantity: 0, value };
        self.shown.push(Shown {
            name: name.to_owned(),
            detail,
            planned_known: true,
            ..Shown::default()
        });
        self.lines.push(MaterialLine {
            name: name.to_owned(),
            planned: None,
            actual,
            losses: Vec::new(),
        });
    }
}
