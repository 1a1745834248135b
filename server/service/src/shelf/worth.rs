//! What material costs: as the book holds it; while its lot has no price, what it would cost to buy again; else not known.

use crate::{desk::failure::Done, shelf::shelved::LotRecord};
use ellwand_contract::Micro;
use ellwand_domain::{
    certainty::Certainty,
    layer::{Taken, WHOLE},
    ledger::AccountKind,
    purchase::Replacement,
    quantity::{Millionths, exact},
};
use ellwand_storage::{Lot, Tx};
use std::collections::HashMap;

/// A cost and how well it is known: measured by the book, estimated, or unknown for some of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Worth {
    /// What of it has a price.
    pub(crate) value: Millionths,
    pub(crate) certainty: Certainty,
}

impl Worth {
    pub(crate) const NOTHING: Self = Self::booked(Millionths::ZERO);

    /// As the book holds it.
    pub(crate) const fn booked(value: Millionths) -> Self {
        Self {
            value,
            certainty: Certainty::Measured,
        }
    }

    /// Of so much of a lot, whose share of the book's value is `booked`.
    pub(crate) fn of_lot(lot: &Lot, booked: Millionths, quantity: i64) -> Done<Self> {
        if !lot.unpriced {
            let certainty = match lot.value_estimated {
                true => Certainty::Estimated,
                false => Certainty::Measured,
            };
            return Ok(Self {
                value: booked,
                certainty,
            });
        }
        Ok(match replacement(lot)? {
            Some(replacement) => Self {
                value: booked.plus(replacement.of(quantity)?)?,
                certainty: Certainty::Estimated,
            },
            None => Self {
                value: booked,
                certainty: Certainty::Unknown,
            },
        })
    }

    pub(crate) fn plus(self, other: Self) -> Done<Self> {
        Ok(Self {
            value: self.value.plus(other.value)?,
            certainty: self.certainty.max(other.certainty),
        })
    }

    pub(crate) fn is_known(self) -> bool {
        self.certainty != Certainty::Unknown
    }

    /// What it comes to; nothing where it is not known.
    pub(crate) fn known(self) -> Option<Millionths> {
        self.is_known().then_some(self.value)
    }

    /// As it travels: nothing where it is not known.
    pub(crate) fn micro(self) -> Option<Micro> {
        self.known().map(Micro)
    }
}

/// What a lot would cost to buy again, where that was given.
pub(crate) fn replacement(lot: &Lot) -> Done<Option<Replacement>> {
    Ok(match (lot.replacement_value, lot.replacement_per) {
        (Some(value), Some(per)) => Some(Replacement {
            value: Millionths::new(value)?,
            per,
        }),
        _ => None,
    })
}

/// Lots without a price, or with one that was estimated, in the cost layers of thread or trims: of what is taken from a layer, `of / per` is of such a lot.
#[derive(Debug, Default)]
pub(crate) struct Unpriced {
    layers: HashMap<i64, Vec<(Lot, i64, i64)>>,
}

impl Unpriced {
    /// Of a material.
    pub(crate) fn read(tx: &mut Tx<'_>, material: i64) -> Done<Self> {
        let mut unpriced = Self::default();
        let lots = tx.lots_in_doubt(material)?;
        if lots.is_empty() {
            return Ok(unpriced);
        }
        let layers = tx.layers(material)?;
        for lot in lots {
            if let Some(own) = layers.iter().find(|layer| layer.lot_id == Some(lot.id)) {
                unpriced.layers.insert(own.id, vec![(lot, 1, 1)]);
                continue;
            }
            let Some(share) = tx.pool_share(lot.id)? else {
                continue;
            };
            let pool = layers.iter().find(|layer| layer.id == share.layer_id);
            if let Some(pool) = pool.filter(|pool| pool.quantity > 0 && share.share > 0) {
                let here = of_receipt(tx, &lot, share.share)?;
                let parts = unpriced.layers.entry(pool.id).or_default();
                parts.push((lot, here, pool.quantity));
            }
        }
        Ok(unpriced)
    }

    /// True where some of a layer has no price.
    pub(crate) fn is_in(&self, layer: i64) -> bool {
        let lots = self.layers.get(&layer);
        lots.is_some_and(|lots| lots.iter().any(|(lot, ..)| lot.unpriced))
    }

    /// What was taken from layers.
    pub(crate) fn of(&self, taken: &[Taken]) -> Done<Worth> {
        let mut worth = Worth::NOTHING;
        for part in taken {
            worth = worth.plus(Worth::booked(part.value))?;
            for (lot, of, per) in self.layers.get(&part.layer).into_iter().flatten() {
                let quantity = exact::mul_div_nearest(part.quantity, *of, *per)?;
                worth = worth.plus(Worth::of_lot(lot, Millionths::ZERO, quantity)?)?;
            }
        }
        Ok(worth)
    }
}

/// What a share of a lot's receipt, in billionths, is of its quantity.
fn of_receipt(tx: &mut Tx<'_>, lot: &Lot, share: i64) -> Done<i64> {
    Ok(exact::mul_div_nearest(received(tx, lot)?, share, WHOLE)?)
}

/// How much of a lot was bought.
fn received(tx: &mut Tx<'_>, lot: &Lot) -> Done<i64> {
    let lines = tx.purchase_lines(lot.purchase_id)?;
    let line = lines.iter().find(|line| line.lot_id == lot.id);
    Ok(line.map_or(0, |line| line.quantity))
}

/// What so much of a lot costs that had no price before: its share of the price that was logged since.
pub(crate) fn priced_since(tx: &mut Tx<'_>, lot: &Lot, quantity: i64) -> Done<Worth> {
    let booked = match received(tx, lot)? {
        all @ 1.. => Millionths::new(lot.landed)?.share(quantity, all)?,
        _ => Millionths::ZERO,
    };
    Worth::of_lot(lot, booked, quantity)
}

/// What cuts of pieces of a lot cost, which took `quantity` and moved `booked`: thread and trims by the layers that it came from.
pub(crate) fn of_cuts(
    tx: &mut Tx<'_>,
    record: &LotRecord,
    cuts: &[i64],
    (booked, quantity): (Millionths, i64),
) -> Done<Worth> {
    if record.kind().is_rectangle() || record.lot.owner_id.is_some() {
        return Worth::of_lot(&record.lot, booked, quantity);
    }
    let mut worth = Worth::booked(booked);
    let lots = tx.lots_in_doubt(record.material.id)?;
    if lots.is_empty() {
        return Ok(worth);
    }
    let find = |id: i64| lots.iter().find(|lot| lot.id == id);
    for taking in tx.pool_takings_of(cuts)? {
        if let Some(lot) = find(taking.lot_id) {
            let taken = of_receipt(tx, lot, taking.share)?;
            worth = worth.plus(Worth::of_lot(lot, Millionths::ZERO, taken)?)?;
        }
    }
    for stored in tx.movements_of(cuts)? {
        let from = stored.movement.from;
        if from.kind != AccountKind::Layer {
            continue;
        }
        let lot = tx.layer(from.id)?.and_then(|layer| layer.lot_id);
        if let Some(lot) = lot.and_then(find) {
            let taken = stored.movement.quantity_out.get();
            worth = worth.plus(Worth::of_lot(lot, Millionths::ZERO, taken)?)?;
        }
    }
    Ok(worth)
}
