//! What promises would cost if they were cut as the book stands: worked out when it is asked, kept nowhere.
//!
//! Of cloth it is the share of its piece's value. Thread and trims come out of their layers in the order in which they were
//! promised, so that several promises never count the same cheap layer; what is not promised yet comes after all of them.

use crate::{
    desk::{Desk, failure::Done},
    garments::need,
    shelf::{pooled, shelved::Shelved},
};
use ellwand_domain::{
    layer::{self, Layer, Method, Taken},
    ledger::Quantity,
    quantity::Millionths,
    setting::ReservationState,
};
use ellwand_storage::Reservation;
use std::collections::{HashMap, hash_map::Entry};

/// Costs of promises, each material's layers read once.
#[derive(Debug, Default)]
pub(crate) struct Costs {
    materials: HashMap<i64, Pooled>,
}

/// A material's layers, as its promises share them.
#[derive(Debug)]
struct Pooled {
    costs: HashMap<i64, Millionths>,
    /// What they leave.
    left: Vec<Layer>,
}

impl Costs {
    /// What the promise would cost if all that it holds were cut now; nothing once it has ended.
    pub(crate) fn of(
        &mut self,
        desk: &mut Desk<'_>,
        row: &Reservation,
        shelved: &Shelved,
    ) -> Done<Millionths> {
        if row.state != ReservationState::Active
            || row.until.is_some_and(|day| day < desk.context.today)
        {
            return Ok(Millionths::ZERO);
        }
        let piece = &shelved.stored.piece;
        if piece.rectangle.is_some() {
            let held = Quantity::new(row.held)?.min(piece.quantity);
            return Ok(piece
                .value_of(held)
                .map_err(|error| super::internal(shelved, &error))?);
        }
        let pooled = self.pooled(desk, shelved.record.material.id)?;
        Ok(pooled
            .costs
            .get(&row.id)
            .copied()
            .unwrap_or(Millionths::ZERO))
    }

    /// What taking `quantity` of the piece would cost after all that is promised; `own_lot` as for a cut.
    pub(crate) fn beyond(
        &mut self,
        desk: &mut Desk<'_>,
        shelved: &Shelved,
        quantity: Quantity,
        own_lot: bool,
    ) -> Done<Millionths> {
        let piece = &shelved.stored.piece;
        if piece.rectangle.is_some() {
            let quantity = quantity.min(piece.quantity);
            return Ok(piece
                .value_of(quantity)
                .map_err(|error| super::internal(shelved, &error))?);
        }
        pooled::cost(&self.taken(desk, shelved, quantity, own_lot)?)
    }

    /// Takes what was picked of thread and trims out of what is left for the needs after it.
    pub(crate) fn pick(
        &mut self,
        desk: &mut Desk<'_>,
        shelved: &Shelved,
        quantity: Quantity,
        own_lot: bool,
    ) -> Done<()> {
        if shelved.stored.piece.rectangle.is_some() {
            return Ok(());
        }
        let taken = self.taken(desk, shelved, quantity, own_lot)?;
        let pooled = self.pooled(desk, shelved.record.material.id)?;
        pooled.left = layer::draw_down(&pooled.left, &taken).map_err(pooled::refused)?;
        Ok(())
    }

    fn taken(
        &mut self,
        desk: &mut Desk<'_>,
        shelved: &Shelved,
        quantity: Quantity,
        own_lot: bool,
    ) -> Done<Vec<Taken>> {
        if shelved.record.lot.owner_id.is_some() {
            return Ok(Vec::new());
        }
        let own = if own_lot {
            pooled::own_layer(desk, shelved)?
        } else {
            None
        };
        let left = &self.pooled(desk, shelved.record.material.id)?.left;
        take(
            left,
            Method::from(desk.context.workshop.pooled_method),
            own,
            quantity.get(),
        )
    }

    fn pooled(&mut self, desk: &mut Desk<'_>, material: i64) -> Done<&mut Pooled> {
        Ok(match self.materials.entry(material) {
            Entry::Occupied(known) => known.into_mut(),
            Entry::Vacant(new) => new.insert(Pooled::read(desk, material)?),
        })
    }
}

impl Pooled {
    fn read(desk: &mut Desk<'_>, material: i64) -> Done<Self> {
        let method = Method::from(desk.context.workshop.pooled_method);
        let rows = desk.tx.layers(material)?;
        let layer_of = |lot: i64| {
            rows.iter()
                .find(|row| row.lot_id == Some(lot))
                .map(|row| row.id)
        };
        let mut left = pooled::layers(desk, material)?;
        let mut promises = desk.tx.promises_of_material(material)?;
        promises.retain(|promise| {
            promise
                .row
                .until
                .is_none_or(|day| day >= desk.context.today)
        });
        let mut costs = HashMap::with_capacity(promises.len());
        // By the promise that each was first: one that undo made again keeps its place.
        promises.sort_by_key(|promise| (promise.row.line(), promise.row.id));
        for promise in promises {
            let own_lot = method == Method::Fifo && need::insists_on_lot(&promise.need)?;
            let own = if own_lot { layer_of(promise.lot) } else { None };
            let taken = take(&left, method, own, promise.row.held)?;
            left = layer::draw_down(&left, &taken).map_err(pooled::refused)?;
            costs.insert(promise.row.id, pooled::cost(&taken)?);
        }
        Ok(Self { costs, left })
    }
}

/// As a cut would take it; what is not there cannot be planned.
fn take(layers: &[Layer], method: Method, own: Option<i64>, quantity: i64) -> Done<Vec<Taken>> {
    let available = layers
        .iter()
        .fold(0_i64, |sum, layer| sum.saturating_add(layer.quantity));
    match quantity.min(available) {
        0 => Ok(Vec::new()),
        quantity => layer::take_own_first(layers, method, own, quantity).map_err(pooled::refused),
    }
}
